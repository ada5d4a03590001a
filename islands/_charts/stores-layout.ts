import type { LotStay, StoreRow } from "../../core/year/stores-band.ts";
import type { Year } from "../../core/year/year.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { c, type Frame, NUMBERS } from "./frame.ts";
import { TYPE } from "./label-placement.ts";
import type { Step } from "./steps.ts";
import { linesAbove, MUST_LINE, mustLines, type MustWords } from "./must-lines.ts";
import { wrap } from "./text-width.ts";
import { LINE } from "./Words.tsx";

/** A bin or a row of bags with the line it stands on and its height when full. */
export interface StorePlace {
  readonly row: StoreRow;
  /** Its name as it stands left of the axis, above its figures where it is too long to stand beside them. */
  readonly lines: readonly string[];
  readonly ground: number;
  readonly height: number;
  /** Room for words between this row and the one above. */
  readonly clear: number;
  /** What must leave, with the line that its words keep. */
  readonly must: readonly MustWords[];
}

export interface StoresLayout {
  readonly top: number;
  readonly bottom: number;
  readonly places: readonly StorePlace[];
  /** One scale for all bins: units of a tonne. */
  readonly perTonne: number;
}

/** Height of one bag place. */
export const PER_BAG = 1.6;
/** Words stand above grain in a bin lower than this. */
export const LOW = 20;
/** A line of words with more air above it than below, so that it is read as that of the bin under it. */
const WORDS = 13.5;

/** Where the bins stand: a tall row is a big bin, because all share one tonne scale; together they are `allBins` high. */
export function layoutStores(
  { stores, units }: Year,
  frame: Frame,
  top: number,
  allBins: number,
): StoresLayout {
  const bins = stores.filter(({ kind }) => kind === "bin");
  const tonnes = bins.reduce((sum, row) => sum + mostG(row) / 1e6, 0);
  const perTonne = tonnes === 0 ? 1.4 : Math.min(3, Math.max(0.25, allBins / tonnes));
  let ground = top;
  const places = stores.map((row, index): StorePlace => {
    const height = row.kind === "bin"
      ? mostG(row) / 1e6 * perTonne
      : Math.max(6, (row.places ?? 1) * PER_BAG);
    const above = stores[index - 1];
    const hanging = above?.departures.some(({ kind, standing }) =>
      standing !== "done" && HANGING.includes(kind)
    );
    const must = mustLines(row, frame, height, perTonne);
    const wordLines = Math.max(linesAbove(must), height < LOW && row.stays.length > 0 ? 1 : 0);
    const clear = wordLines > 0
      ? WORDS + (wordLines - 1) * MUST_LINE + loadsOver(above, must, frame, perTonne)
      : index === 0
      ? (height < 25 ? 12 : 0)
      : hanging
      ? 9
      : 7;
    const lines = nameLines(row, units);
    ground = Math.max(
      ground + Math.max(clear + height, lines.length * LINE + 2),
      top + 11 + (lines.length > 1 ? lines.length * LINE : 0),
    );
    return { row, lines, ground: c(ground), height: c(height), clear, must };
  });
  const last = places.at(-1);
  return { top, bottom: last === undefined ? top + 22 : last.ground + 5, places, perTonne };
}

function nameLines({ name, kind }: StoreRow, units: ReaderUnits): string[] {
  const beside = units === "us" && kind === "bin" ? 62 : 96;
  const [first = ""] = wrap(name, [beside], TYPE);
  return first.endsWith("…") ? wrap(name, [NUMBERS, beside], TYPE) : [first];
}

/** The most a bin is drawn to hold: its greatest capacity for any lot that lies in it. */
function mostG(row: StoreRow): number {
  return Math.max(row.capacityG, ...row.stays.map(({ capacityG }) => capacityG));
}

/** The upper edge of a lot in a store, day by day; `below` lifts it onto what lies under it in a bag row. */
export function levelSteps(
  stay: LotStay,
  place: StorePlace,
  frame: Frame,
  perTonne: number,
  below?: readonly number[],
): Step[] {
  const steps: Step[] = [];
  for (let index = 0; index < stay.levelsG.length; index++) {
    const day = stay.from + index;
    if (day < frame.fromDay || day >= frame.toDay) continue;
    const height = heightOf(place.row, stay, stay.levelsG[index] ?? 0, perTonne);
    const y = c(place.ground - height - (below?.[day - frame.fromDay] ?? 0));
    if (steps.at(-1)?.y !== y) steps.push({ x: frame.x(day), y });
  }
  return steps;
}

/** Height of a weight of a lot in its store: by tonnes in a bin, by whole bags in a bag row. */
export function heightOf(row: StoreRow, stay: LotStay, massG: number, perTonne: number): number {
  if (row.kind === "bin") return massG / 1e6 * perTonne;
  const bagG = stay.capacityG / Math.max(1, row.places ?? 1);
  return bagG > 0 ? Math.ceil(massG / bagG) * PER_BAG : 0;
}

/** How high the lots stand that lie under a lot in a bag row, day by day of the axis. */
export function under({ row }: StorePlace, index: number, frame: Frame, perTonne: number): number[] {
  return Array.from({ length: frame.toDay - frame.fromDay }, (_, offset) => {
    const day = frame.fromDay + offset;
    return row.stays.slice(0, index).reduce(
      (sum, stay) => sum + heightOf(row, stay, stay.levelsG[day - stay.from] ?? 0, perTonne),
      0,
    );
  });
}

/** How deep a load hangs below its store, its arrow included: by its tonnes, inside what the room between two rows allows. */
export function loadHeight(massG: number, perTonne: number): number {
  return Math.min(8, Math.max(3, massG / 1e6 * perTonne) + ARROW);
}

/** Height of the arrow under a load. */
export const ARROW = 3.5;

/** Room that words on what must leave need under the loads of the store above, where these hang into their line. */
function loadsOver(
  above: StoreRow | undefined,
  must: readonly MustWords[],
  frame: Frame,
  perTonne: number,
): number {
  const highest = linesAbove(must) - 1;
  const words = must.filter(({ line }) => line === highest);
  const over = (above?.departures ?? []).filter(({ kind, day }) =>
    HANGING.includes(kind) && words.some(({ note, width }) => {
      const right = frame.x(note.onDay + 1), x = frame.x(day + 1);
      return right - width - 24 < x && x < right + 12;
    })
  );
  return Math.max(0, ...over.map(({ massG }) => loadHeight(massG, perTonne)));
}

/** What hangs below a store as a load. */
const HANGING: readonly string[] = ["feed", "seed", "sold"];
