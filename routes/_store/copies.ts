import { join } from "node:path";
import { exists } from "./files.ts";

/** One copy of the store. */
export interface Copy {
  /** The file's name in the folder of copies. */
  readonly name: string;
  /** When it was taken, by this machine's clock, to the second. */
  readonly at: Date;
  readonly bytes: number;
  /** Taken by the server's schedule; false for one that somebody asked for. */
  readonly scheduled: boolean;
}

/** How names begin. The schedule removes only copies with its own beginning. */
const BEGINNING = { scheduled: "rickyard-daily-", byHand: "rickyard-" } as const;

const NAME = /^rickyard-(daily-)?(\d{4})-(\d{2})-(\d{2})-(\d{2})(\d{2})(\d{2})\.sqlite$/;

/** The folder of copies of the store in `folder`. */
export function copiesIn(folder: string): string {
  return join(folder, "copies");
}

/** A moment by this machine's clock as it stands in file names: YYYY-MM-DD-HHMMSS. */
export function stamp(at: Date): string {
  const two = (n: number) => String(n).padStart(2, "0");
  const day = [String(at.getFullYear()).padStart(4, "0"), two(at.getMonth() + 1), two(at.getDate())].join(
    "-",
  );
  return `${day}-${two(at.getHours())}${two(at.getMinutes())}${two(at.getSeconds())}`;
}

/** The name of a copy taken at this moment. */
export function copyName(at: Date, scheduled: boolean): string {
  return `${scheduled ? BEGINNING.scheduled : BEGINNING.byHand}${stamp(at)}.sqlite`;
}

/** What a copy's name says, or null when it is no copy's name. */
export function readCopyName(name: string): { at: Date; scheduled: boolean } | null {
  const [, daily, ...numbers] = NAME.exec(name) ?? [];
  if (numbers.length === 0) return null;
  const [year = 0, month = 0, ...rest] = numbers.map(Number);
  const [day, hour, minute, second] = rest;
  const at = new Date(year, month - 1, day, hour, minute, second);
  const scheduled = daily !== undefined;
  return copyName(at, scheduled) === name ? { at, scheduled } : null;
}

/** The copies in a folder, the newest first. Other files do not count; a folder that is not there holds none. */
export function listCopies(folder: string): Copy[] {
  if (!exists(folder)) return [];
  return [...Deno.readDirSync(folder)].filter(({ isFile }) => isFile).flatMap(({ name }) => {
    const read = readCopyName(name);
    return read === null ? [] : [{ name, ...read, bytes: Deno.statSync(join(folder, name)).size }];
  }).sort((a, b) => b.at.getTime() - a.at.getTime() || (a.name < b.name ? -1 : 1));
}
