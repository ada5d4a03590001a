import { basename, dirname, join } from "node:path";
import { backup, DatabaseSync } from "node:sqlite";
import { checkWhole } from "./check.ts";
import { exists, removeStoreFile, syncFile, syncFolder } from "./files.ts";
import { formatOf } from "./identity.ts";
import type { Store } from "./open.ts";
import { StoreError } from "./trouble.ts";

/** The name that a copy has while it is written. */
export function unfinished(target: string): string {
  return join(dirname(target), `.${basename(target)}.new`);
}

/**
 * Copies a store that may be in use to `target`, whole or not at all: under another name first, checked, brought to
 * the disk, then renamed. The copy is one file that needs nothing beside it.
 *
 * Throws a StoreError when `target` is there already or the copy does not pass its check, and what SQLite or the
 * operating system say of the disk.
 */
export async function writeCopy(store: Store, target: string): Promise<void> {
  refuseToOverwrite(target);
  const temporary = unfinished(target);
  try {
    removeStoreFile(temporary);
    // All pages in one step: a reader of one moment, which no writer can make begin again.
    await backup(store, temporary, { rate: -1 });
    checkCopy(temporary, target, formatOf(store));
    syncFile(temporary);
    refuseToOverwrite(target);
    Deno.renameSync(temporary, target);
  } catch (error) {
    removeStoreFile(temporary);
    throw error;
  }
  syncFolder(dirname(target));
}

function checkCopy(path: string, target: string, format: number): void {
  const copy = new DatabaseSync(path);
  try {
    // Without a log beside it the copy is whole by itself, wherever it is carried.
    copy.exec("PRAGMA journal_mode = DELETE");
    checkWhole(copy, target);
    if (formatOf(copy) !== format) {
      throw new Error(`The copy has format ${formatOf(copy)}, the store ${format}.`);
    }
  } finally {
    copy.close();
  }
}

function refuseToOverwrite(target: string): void {
  if (!exists(target)) return;
  throw new StoreError({
    what: "There is a file of this name already, and a copy overwrites nothing.",
    where: target,
    whatToDo: "Give the copy another name.",
  });
}
