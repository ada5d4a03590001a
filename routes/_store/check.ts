import { exists } from "./files.ts";
import type { Store } from "./open.ts";
import { StoreError, troubleOf } from "./trouble.ts";

/** The bytes with which every SQLite file begins. */
const HEAD = "SQLite format 3\0";

/**
 * Sees that a file has the head of a SQLite file, or is not there or empty, without SQLite: it would take the log
 * beside a file without one for left over, and remove it. Throws a StoreError.
 */
export function checkHead(path: string): void {
  if (!exists(path)) return;
  const file = Deno.openSync(path);
  try {
    const head = new Uint8Array(HEAD.length);
    const length = file.readSync(head) ?? 0;
    const empty = length === 0 && !exists(`${path}-wal`);
    if (!empty && new TextDecoder().decode(head) !== HEAD) {
      throw new StoreError(troubleOf("not a store", path), "not a store");
    }
  } finally {
    file.close();
  }
}

/**
 * Sees that the pages of the file fit together, as far as that takes no reading of every index: some 40 ms for
 * 50 MB. Throws a StoreError when they do not.
 */
export function checkPages(store: Store, path: string): void {
  // A badly damaged file makes the check itself fail; that error says the same.
  if (firstOf(store, "quick_check") !== "ok") throw new StoreError(troubleOf("damaged", path), "damaged");
}

/** Checks everything SQLite can check: pages, indexes, references. Throws a StoreError when something is wrong. */
export function checkWhole(store: Store, path: string): void {
  const sound = firstOf(store, "integrity_check") === "ok" &&
    firstOf(store, "foreign_key_check") === undefined;
  if (!sound) throw new StoreError(troubleOf("damaged", path), "damaged");
}

function firstOf(store: Store, pragma: string): unknown {
  const row = store.prepare(`PRAGMA ${pragma}`).get();
  return row === undefined ? undefined : Object.values(row)[0];
}
