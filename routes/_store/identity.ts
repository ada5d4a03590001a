import type { Store } from "./open.ts";
import { StoreError } from "./trouble.ts";

/** The mark in a file's head that says it is a store of Rickyard: "Rick" in ASCII. */
const OURS = 0x5269636b;

/**
 * Sees that a file is a store of ours, or an empty one, before anything is written to it. Stores that were made
 * before there was a mark carry none; they are known by their tables. Throws a StoreError for a file of another
 * program.
 */
export function recognise(store: Store, path: string): void {
  const mark = numberOf(store, "application_id");
  if (mark === OURS) return;
  const tables = new Set(
    store.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").all().map(({ name }) =>
      String(name)
    ),
  );
  const empty = tables.size === 0 && formatOf(store) === 0;
  const early = formatOf(store) > 0 && tables.has("season") && tables.has("plan");
  if (mark === 0 && (empty || early)) return;
  throw new StoreError({
    what: "This SQLite file is not a store of Rickyard: it belongs to another program.",
    where: path,
    whatToDo: "Nothing in it was changed. Name the right file, or another folder in RICKYARD_DATA.",
  });
}

/** Puts the mark into a store that was recognised. */
export function mark(store: Store): void {
  if (numberOf(store, "application_id") !== OURS) store.exec(`PRAGMA application_id = ${OURS}`);
}

/** The number of the last migration that the store has had; 0 in an empty file. */
export function formatOf(store: Store): number {
  return numberOf(store, "user_version");
}

function numberOf(store: Store, pragma: "application_id" | "user_version"): number {
  return Number(store.prepare(`PRAGMA ${pragma}`).get()?.[pragma] ?? 0);
}
