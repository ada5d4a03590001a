import type { MustLeave, StoreRow } from "../../core/year/stores-band.ts";
import type { Frame } from "./frame.ts";
import { labelBox } from "./label-placement.ts";

/** Type size of what must leave: an answer of the year, larger than a lot's name. */
export const MUST_TYPE = 12;
/** From one line of such words to the next. */
export const MUST_LINE = 12;
/** Room that a line of words needs over the grain inside a bin. */
const INSIDE = 14;

/** What must leave a store in the time shown, in order of day, each with its words. */
export interface MustWords {
  readonly note: MustLeave;
  readonly go: string;
  readonly after: string;
  /** Width of letter and words together. */
  readonly width: number;
  /** Line above the store, 0 the lowest; null where the words have room over the grain inside it. */
  readonly line: number | null;
}

/**
 * Gives each thing that must leave a line of its own, ending at the day on which it goes, so that its words can always
 * stand at their own store: inside a bin that is low enough all along them, else above it.
 */
export function mustLines(row: StoreRow, frame: Frame, height: number, perTonne: number): MustWords[] {
  const shown = row.mustLeave.filter(({ onDay }) => onDay >= frame.fromDay && onDay < frame.toDay)
    .toSorted((a, b) => a.onDay - b.onDay);
  // The last stands lowest, so that lines read downwards in order of day.
  const begins: number[] = [];
  return shown.toReversed().map((note): MustWords => {
    const { go, where, comes } = note.words;
    const after = `, ${where}: ${comes}`;
    const { width } = labelBox(go, { x: 0, y: 0 }, MUST_TYPE, true, note.letter, after);
    const right = frame.x(note.onDay + 1), left = right - width - 20;
    if (row.kind === "bin" && highest(row, frame, left, right, perTonne) + INSIDE <= height) {
      return { note, go, after, width, line: null };
    }
    const free = begins.findIndex((begin) => right < begin);
    const line = free === -1 ? begins.length : free;
    begins[line] = left;
    return { note, go, after, width, line };
  }).toReversed();
}

/** How many lines of words stand above a store. */
export function linesAbove(words: readonly MustWords[]): number {
  return Math.max(0, ...words.map(({ line }) => line === null ? 0 : line + 1));
}

/** How high the grain of any lot stands in a bin between two places of the axis. */
function highest(row: StoreRow, frame: Frame, left: number, right: number, perTonne: number): number {
  const day = (x: number) => Math.floor(frame.fromDay + (x - frame.left) / frame.dayWidth);
  const from = day(left), to = day(right) - 1;
  return Math.max(
    0,
    ...row.stays.flatMap((stay) =>
      stay.levelsG.slice(Math.max(0, from - stay.from), Math.max(0, to - stay.from + 1))
    ).map((massG) => massG / 1e6 * perTonne),
  );
}
