import { type Change, inverseOf } from "./change.ts";

/** What the undoing of edits needs to know of each. */
export interface Trail {
  readonly revision: number;
  /** The edit that this one takes back, or null. */
  readonly undoes: number | null;
  /** The edit that this one makes again after it was taken back, or null. */
  readonly redoes: number | null;
  /** Whether the person made this one; others may have taken back the person's edits, or made them again. */
  readonly own: boolean;
}

/** The edits that a person can take back next, or make again next. */
export interface UndoState {
  readonly undo: number | null;
  readonly redo: number | null;
}

/** `trail` is what concerns one person's edits of a season, oldest first. A new edit ends what could be made again. */
export function undoState(trail: readonly Trail[]): UndoState {
  const mine = new Set(trail.filter((one) => one.own).map((one) => one.revision));
  let done: number[] = [];
  let undone: number[] = [];
  for (const { revision, undoes, redoes, own } of trail) {
    if (undoes !== null) {
      done = done.filter((one) => one !== undoes);
      if (own) undone.push(undoes);
    } else if (redoes !== null) {
      undone = undone.filter((one) => one !== redoes);
      if (own || mine.has(redoes)) done.push(redoes);
    } else {
      done.push(revision);
      undone = [];
    }
  }
  return { undo: done.at(-1) ?? null, redo: undone.at(-1) ?? null };
}

/** The changes that take an edit back. The farm's clock is not set back. */
export function undoing(changes: readonly Change[]): Change[] {
  return inverseOf(changes).filter(({ at }) => at !== "/asOf");
}

/** The changes that make an edit again. */
export function redoing(changes: readonly Change[]): Change[] {
  return changes.filter(({ at }) => at !== "/asOf");
}
