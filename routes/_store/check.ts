import type { Store } from "./open.ts";
import { StoreError, troubleOf } from "./trouble.ts";

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
