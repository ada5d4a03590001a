import { lstatSync } from "node:fs";

/** What SQLite may keep beside a store's file while it works. */
export const BESIDE = ["-wal", "-shm", "-journal"] as const;

/** True when something has this name. */
export function exists(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false }) !== undefined;
}

/** Removes a file that may not be there, and what SQLite kept beside it. */
export function removeStoreFile(path: string): void {
  for (const name of [path, ...BESIDE.map((end) => path + end)]) {
    if (exists(name)) Deno.removeSync(name);
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
