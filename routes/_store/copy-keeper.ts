import { join } from "node:path";
import type { Trouble } from "../_shell/errors.tsx";
import { copiesIn, type Copy, copyName, listCopies, readCopyName } from "./copies.ts";
import { unfinished, writeCopy } from "./copy.ts";
import { exists, removeStoreFile } from "./files.ts";
import type { Store } from "./open.ts";
import { folderTrouble, inWords } from "./trouble.ts";

/** How many copies of the schedule are kept; older ones go when a new one is there. */
export const KEPT_COPIES = 14;

/** A copy is due when the newest one is this old, in milliseconds. */
const DAY_MS = 24 * 60 * 60 * 1000;

/** The copies of a running server's store. */
export interface CopyKeeper {
  /** Where the copies lie. */
  readonly folder: string;
  /** The copies there are, the newest first. */
  list(): Copy[];
  /** Takes a copy because somebody asked for it. Pressed twice in a second it is still one copy. */
  copyNow(): Promise<void>;
  /**
   * Takes a copy when the newest is older than a day and the store has changed since, and lets the oldest of the
   * schedule's go. A failure is logged and kept for the page; nothing is thrown.
   */
  copyIfDue(): Promise<void>;
  /** Why the last copy that was due is not there, or null. */
  failure(): { readonly at: Date; readonly trouble: Trouble } | null;
  /** The content of one of the copies listed, or null for any other name. */
  open(name: string): { readonly copy: Copy; readonly body: ReadableStream<Uint8Array> } | null;
}

/** What the keeper works with. */
export interface KeeperParts {
  readonly store: Store;
  /** The store's folder. */
  readonly folder: string;
  /** The store's file in it. */
  readonly path: string;
  readonly now: () => Date;
  readonly log: (line: string) => void;
}

/** Opens the keeper of a store's copies. It does nothing by itself: whoever owns the clock calls copyIfDue. */
export function openCopyKeeper({ store, folder, path, now, log }: KeeperParts): CopyKeeper {
  const copies = copiesIn(folder);
  let failure: ReturnType<CopyKeeper["failure"]> = null;

  async function take(scheduled: boolean): Promise<void> {
    Deno.mkdirSync(copies, { recursive: true });
    const target = join(copies, copyName(now(), scheduled));
    if (exists(target)) return;
    // What stands in the log goes into the file first, so that closing the store will not write, and look like a change.
    store.exec("PRAGMA wal_checkpoint(TRUNCATE)");
    const changed = new Date(changedAt(path));
    await writeCopy(store, target);
    Deno.utimeSync(target, changed, changed);
  }

  /** A copy from before the clock was put back cannot say how old it is, so those of the future do not count. */
  function isDue(): boolean {
    const newest = listCopies(copies).find(({ at }) => at <= now());
    if (newest === undefined) return true;
    return now().getTime() - newest.at.getTime() >= DAY_MS && changedAt(path) > holdsUntil(copies, newest);
  }

  return {
    folder: copies,
    list: () => listCopies(copies),
    copyNow: () => take(false),
    async copyIfDue() {
      try {
        clearUnfinished(copies);
        if (isDue()) {
          await take(true);
          removeOldest(copies);
        }
        failure = null;
      } catch (error) {
        const trouble = folderTrouble(error, copies)?.trouble ?? unexpected(error, copies);
        failure = { at: now(), trouble };
        log(`The daily copy was not taken. ${inWords(trouble)}`);
      }
    },
    failure: () => failure,
    open(name) {
      const copy = listCopies(copies).find((one) => one.name === name);
      return copy === undefined ? null : { copy, body: Deno.openSync(join(copies, copy.name)).readable };
    },
  };
}

/** When the store was last written, in milliseconds: its file, or the log of what is not in the file yet. */
function changedAt(path: string): number {
  const log = `${path}-wal`;
  const times = [Deno.statSync(path)];
  // SQLite makes an empty log whenever it opens a store; that changes nothing.
  if (exists(log) && Deno.statSync(log).size > 0) times.push(Deno.statSync(log));
  return Math.max(...times.map(({ mtime }) => mtime?.getTime() ?? Infinity));
}

/**
 * The last change that a copy holds, in milliseconds: its file's time was set to that. A file that was carried about
 * may have a time of its own, which says less than the second in its name.
 */
function holdsUntil(folder: string, { name, at }: Copy): number {
  const named = at.getTime() + 1000;
  return Math.min(named, Deno.statSync(join(folder, name)).mtime?.getTime() ?? named);
}

function removeOldest(folder: string): void {
  const scheduled = listCopies(folder).filter((copy) => copy.scheduled);
  for (const { name } of scheduled.slice(KEPT_COPIES)) Deno.removeSync(join(folder, name));
}

/** What a server that was killed while it copied left behind. Only one server has the folder, so nobody writes it. */
function clearUnfinished(folder: string): void {
  if (!exists(folder)) return;
  for (const { name } of Deno.readDirSync(folder)) {
    const meant = /^\.(.+)\.new$/.exec(name)?.[1];
    if (meant !== undefined && readCopyName(meant)?.scheduled) {
      removeStoreFile(unfinished(join(folder, meant)));
    }
  }
}

function unexpected(error: unknown, where: string): Trouble {
  return {
    what: `The copy failed: ${error instanceof Error ? error.message : error}.`,
    where,
    whatToDo: "Take a copy by hand. If that fails as well, report this.",
  };
}
