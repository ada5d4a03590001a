import { join } from "node:path";
import { StoreError } from "./trouble.ts";

/** The folder's hold; it ends with the process, however that ends. */
export interface Lock {
  release(): void;
}

/**
 * Takes a data folder for this process alone. The operating system keeps the lock and drops it when the process
 * ends, so a killed server leaves none behind; the empty file stays and means nothing.
 *
 * Throws a StoreError when another process has the folder.
 */
export function lockFolder(folder: string): Lock {
  const path = join(folder, "rickyard.lock");
  const file = Deno.openSync(path, { write: true, create: true });
  if (file.tryLockSync(true)) return { release: () => file.close() };
  file.close();
  throw new StoreError({
    what: "A Rickyard server is running on this folder, or a restore is under way.",
    where: folder,
    whatToDo: "Stop that one first (Ctrl+C in its window), or name another folder in RICKYARD_DATA.",
  });
}
