import type { Trouble } from "../_shell/errors.tsx";

/** What can go wrong with a store. "told": an error that says in its own words what is wrong. */
export type TroubleKind =
  | "full"
  | "readonly"
  | "busy"
  | "damaged"
  | "not a store"
  | "cannot open"
  | "disk"
  | "denied"
  | "not allowed"
  | "missing"
  | "not a folder"
  | "told";

/** A trouble with the store, in words. Thrown where the program itself finds it. */
export class StoreError extends Error {
  constructor(readonly trouble: Trouble, readonly kind: TroubleKind = "told", options: ErrorOptions = {}) {
    super(inWords(trouble), options);
  }
}

/** A trouble as lines for a terminal or a log. */
export function inWords({ what, where, whatToDo }: Trouble): string {
  return `${what}\nWhere: ${where}\n${whatToDo}`;
}

type Words = readonly [what: string, whatToDo: string];

const WORDS: Record<Exclude<TroubleKind, "told">, Words> = {
  full: [
    "The disk is full, so the store can take nothing more.",
    "Make room on the disk that holds the store, then do it again.",
  ],
  readonly: [
    "The store can be read, but not written.",
    "Give the account that runs Rickyard the right to write the folder and the files in it. A disk that turned " +
    "read-only by itself may be failing.",
  ],
  busy: [
    "Another program holds the store.",
    "Close whatever else has the file open (a database viewer, a copy under way), then try again.",
  ],
  damaged: [
    "The store is damaged.",
    "Go back to a copy: stop the server, run `deno task restore FILE` with one of the files in the folder " +
    "`copies` beside the store, and start again. The damaged file is kept.",
  ],
  "not a store": [
    "The file of the store is no SQLite file, or its head is damaged.",
    "Go back to a copy: stop the server, run `deno task restore FILE` with one of the files in the folder " +
    "`copies` beside the store, and start again. The file as it is now is kept.",
  ],
  "cannot open": [
    "The store cannot be opened.",
    "See that the folder is there, that it is on a disk that is connected, and that the account that runs " +
    "Rickyard may read and write it.",
  ],
  disk: [
    "The disk did not do what it was asked.",
    "The disk may be failing, full or disconnected. Look at it, take a copy to another disk, then try again.",
  ],
  denied: [
    "The operating system does not let Rickyard read or write here.",
    "Give the account that runs Rickyard the right to read and write the folder and the files in it, or name " +
    "another folder in RICKYARD_DATA.",
  ],
  "not allowed": [
    "Rickyard was started without the permission to use this place.",
    "The tasks in deno.json may write below .data only. To use another folder, put its name beside .data in the " +
    "task's --allow-read and --allow-write.",
  ],
  missing: ["There is nothing at this place.", "See that the path is right and the disk is connected."],
  "not a folder": [
    "There is a file where a folder should be.",
    "Move the file away, or name another folder in RICKYARD_DATA.",
  ],
};

/** SQLite's primary result codes that people can do something about. */
const CODES: Readonly<Record<number, TroubleKind>> = {
  5: "busy",
  6: "busy",
  8: "readonly",
  10: "disk",
  11: "damaged",
  13: "full",
  14: "cannot open",
  26: "not a store",
};

/** SQLite's own sentences for the same codes: not every error that reaches us carries its code. */
const SENTENCES: readonly (readonly [RegExp, TroubleKind])[] = [
  [/^database( table| schema)? is locked/, "busy"],
  [/^attempt to write a readonly database/, "readonly"],
  [/^disk I\/O error/, "disk"],
  [/^database disk image is malformed/, "damaged"],
  [/^malformed database schema/, "damaged"],
  [/^database or disk is full/, "full"],
  [/^unable to open database file/, "cannot open"],
  [/^file is not a database/, "not a store"],
];

/** What went wrong with the store, or null for an error of another kind. `where` is told to the person. */
export function storeTrouble(error: unknown, where: string): { kind: TroubleKind; trouble: Trouble } | null {
  if (error instanceof StoreError) return { kind: error.kind, trouble: error.trouble };
  const kind = sqliteKind(error);
  return kind === null ? null : { kind, trouble: troubleOf(kind, where) };
}

/** As storeTrouble, and also what Deno says of files and folders. For places where nothing but the store is used. */
export function folderTrouble(error: unknown, where: string): { kind: TroubleKind; trouble: Trouble } | null {
  const kind = fileKind(error);
  return kind === null ? storeTrouble(error, where) : { kind, trouble: troubleOf(kind, where) };
}

/** The words for one kind of trouble. */
export function troubleOf(kind: Exclude<TroubleKind, "told">, where: string): Trouble {
  const [what, whatToDo] = WORDS[kind];
  return { what, where, whatToDo };
}

function sqliteKind(error: unknown): Exclude<TroubleKind, "told"> | null {
  if (!(error instanceof Error) || !("code" in error) || error.code !== "ERR_SQLITE_ERROR") return null;
  // The extended codes keep the primary one in their lowest byte.
  const code = "errcode" in error && typeof error.errcode === "number" ? error.errcode & 0xff : null;
  const kind = (code === null ? undefined : CODES[code]) ??
    SENTENCES.find(([sentence]) => sentence.test(error.message))?.[1];
  return kind === undefined || kind === "told" ? null : kind;
}

function fileKind(error: unknown): Exclude<TroubleKind, "told"> | null {
  if (error instanceof Deno.errors.NotCapable) return "not allowed";
  if (error instanceof Deno.errors.PermissionDenied) return "denied";
  if (error instanceof Deno.errors.NotFound) return "missing";
  if (error instanceof Deno.errors.NotADirectory || error instanceof Deno.errors.AlreadyExists) {
    return "not a folder";
  }
  if (!(error instanceof Error) || !("code" in error)) return null;
  return FILE_CODES[String(error.code)] ?? null;
}

/** The operating system's codes for which Deno has no class of error. */
const FILE_CODES: Readonly<Record<string, Exclude<TroubleKind, "told">>> = {
  ENOSPC: "full",
  EDQUOT: "full",
  EFBIG: "full",
  EROFS: "readonly",
  EIO: "disk",
};
