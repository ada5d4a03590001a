import { dirname, join, resolve } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { checkHead, checkWhole } from "./check.ts";
import { stamp } from "./copies.ts";
import { unfinished, writeCopy } from "./copy.ts";
import { BESIDE, exists, removeBeside, removeStoreFile, syncFile, syncFolder } from "./files.ts";
import { formatOf } from "./identity.ts";
import { openStore } from "./open.ts";
import { folderTrouble, StoreError } from "./trouble.ts";

/** What a restore did. */
export interface Restored {
  /** Where the store of before is kept, or null when there was none. */
  readonly kept: string | null;
  /** The store of before was damaged, and is kept as it was, with what stood beside it. */
  readonly damaged: boolean;
  /** The format of the file, and that of the store now. */
  readonly from: number;
  readonly to: number;
}

/**
 * Puts the store in `file` in the place of the one at `path`, which is kept beside it. The caller holds the lock of
 * the folder. `file` itself is only read: everything is tried on a copy, which then takes the store's name in one
 * step, so that an interruption leaves the old store or the new one.
 *
 * Throws a StoreError, and leaves the present store as it is, when the file is no sound store.
 */
export async function restoreStore(path: string, file: string, now: Date): Promise<Restored> {
  if (resolve(file) === resolve(path)) {
    throw new StoreError({
      what: "This file is the store itself.",
      where: file,
      whatToDo: "Name one of the copies.",
    });
  }
  const folder = dirname(path);
  const fresh = join(folder, ".rickyard-restore.sqlite");
  clearUnfinished(folder);
  try {
    removeStoreFile(fresh);
    const { from, to } = prepare(file, fresh);
    const kept = freeName(folder, `rickyard-before-restore-${stamp(now)}`);
    const before = await keepPresent(path, kept);
    Deno.renameSync(fresh, path);
    syncFolder(folder);
    return { kept: before === "none" ? null : kept, damaged: before === "damaged", from, to };
  } finally {
    removeStoreFile(fresh);
  }
}

/** The first name that no file has: a restore that was killed may have kept the store in this very second. */
function freeName(folder: string, stem: string): string {
  const taken = new Set([...Deno.readDirSync(folder)].map(({ name }) => name));
  let name = `${stem}.sqlite`;
  for (let number = 2; taken.has(name); number++) name = `${stem}-${number}.sqlite`;
  return join(folder, name);
}

/** What a restore that was killed left of the store that it was about to keep. */
function clearUnfinished(folder: string): void {
  for (const { name } of [...Deno.readDirSync(folder)]) {
    const meant = /^\.(rickyard-before-restore-.+\.sqlite)\.new$/.exec(name)?.[1];
    if (meant !== undefined) removeStoreFile(unfinished(join(folder, meant)));
  }
}

/** Copies `file` to `fresh`, and checks and migrates the copy as the server would. */
function prepare(file: string, fresh: string): { from: number; to: number } {
  try {
    copyStoreFile(file, fresh);
    const from = formatIn(fresh);
    if (from === 0) throw unfit("There is no store in it: it is empty.", file);
    const store = openStore(fresh);
    try {
      checkWhole(store, fresh);
      store.exec("PRAGMA journal_mode = DELETE");
      return { from, to: formatOf(store) };
    } finally {
      store.close();
      syncFile(fresh);
    }
  } catch (error) {
    const trouble = folderTrouble(error, file)?.trouble;
    if (trouble === undefined) throw error;
    throw new StoreError({
      what: `This file cannot be restored. ${trouble.what}`,
      where: file,
      whatToDo: "The present store is as it was. Choose another copy.",
    });
  }
}

function unfit(what: string, where: string): StoreError {
  return new StoreError({ what, where, whatToDo: "Choose another copy." });
}

function formatIn(path: string): number {
  checkHead(path);
  const store = new DatabaseSync(path);
  try {
    return formatOf(store);
  } finally {
    store.close();
  }
}

/** A store that was copied by hand while it was in use is whole only with the log that stood beside it. */
function copyStoreFile(from: string, to: string): void {
  if (!Deno.statSync(from).isFile) throw unfit("It is no file.", from);
  Deno.copyFileSync(from, to);
  if (exists(`${from}-wal`)) Deno.copyFileSync(`${from}-wal`, `${to}-wal`);
}

/**
 * Keeps the store at `path` as `kept`, and leaves it one file without a log, which would be taken for the log of
 * whatever has its name next.
 */
async function keepPresent(path: string, kept: string): Promise<"none" | "whole" | "damaged"> {
  if (!exists(path)) {
    removeBeside(path);
    return "none";
  }
  try {
    checkHead(path);
    const store = new DatabaseSync(path, { timeout: 2000 });
    try {
      store.exec("PRAGMA journal_mode = DELETE");
      await writeCopy(store, kept);
    } finally {
      store.close();
    }
    removeBeside(path);
    return "whole";
  } catch (error) {
    const kind = folderTrouble(error, path)?.kind;
    if (kind !== "damaged" && kind !== "not a store") throw error;
    keepAsItIs(path, kept);
    return "damaged";
  }
}

/** A damaged store cannot be copied by SQLite. Its file is copied byte by byte, and what stands beside it is moved. */
function keepAsItIs(path: string, kept: string): void {
  Deno.copyFileSync(path, kept);
  syncFile(kept);
  for (const end of BESIDE) {
    if (exists(path + end)) Deno.renameSync(path + end, kept + end);
  }
}
