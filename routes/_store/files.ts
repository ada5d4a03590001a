import { lstatSync } from "node:fs";

/** What SQLite may keep beside a store's file while it works. */
export const BESIDE = ["-wal", "-shm", "-journal"] as const;

/** True when something has this name. */
export function exists(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false }) !== undefined;
}

/** Removes a file that may not be there, and what SQLite kept beside it. */
export function removeStoreFile(path: string): void {
  if (exists(path)) Deno.removeSync(path);
  removeBeside(path);
}

/** Removes what SQLite kept beside a file: of a store that was closed cleanly none of it means anything. */
export function removeBeside(path: string): void {
  for (const end of BESIDE) {
    if (exists(path + end)) Deno.removeSync(path + end);
  }
}

/** Waits until a file's content is on the disk. */
export function syncFile(path: string): void {
  const file = Deno.openSync(path, { read: true, write: true });
  try {
    file.syncSync();
  } finally {
    file.close();
  }
}

/** Waits until a folder's names are on the disk, so that a rename outlives a power cut. */
export function syncFolder(path: string): void {
  // Windows keeps names safe by itself, and opens no folder as a file.
  if (Deno.build.os === "windows") return;
  const folder = Deno.openSync(path);
  try {
    folder.syncSync();
  } finally {
    folder.close();
  }
}
