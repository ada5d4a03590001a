/** What the worker is asked: a corrupted file, or a sequence of entries on a season with failed lots. */
export interface Task {
  readonly kind: "file" | "lots";
  readonly seed: number;
}

/** What it answers. `fault` is null where all is as it should be; `about` says how to get the fault again. */
export type Answer =
  /** The bases are made; those that are at fault before anything is done to them are named, and only checked later. */
  | { readonly kind: "ready"; readonly faults: readonly string[] }
  | { readonly kind: "done"; readonly word: string; readonly fault: string | null; readonly about: string };
