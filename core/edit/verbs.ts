import type { Change } from "./change.ts";
import { isFact } from "./facts.ts";
import { BOOK_VALUES, isWithin } from "./place.ts";

/** What an edit is called. */
export const VERBS = [
  "begin",
  "add",
  "change",
  "take out",
  "record",
  "correct",
  "withdraw",
  "book",
  "unbook",
  "change booking",
  "undo",
  "redo",
  "restore",
  "replace",
] as const;
export type Verb = (typeof VERBS)[number];

type Part = "fact" | "booking" | "input";

/** Each part's own words for what comes, what goes and what changes. */
const WORDS: Readonly<Record<Part, { comes: Verb; goes: Verb; changes: Verb }>> = {
  fact: { comes: "record", goes: "withdraw", changes: "correct" },
  booking: { comes: "book", goes: "unbook", changes: "change booking" },
  input: { comes: "add", goes: "take out", changes: "change" },
};

/** The verb for changes: that of the facts among them, else of the bookings, else of the rest. */
export function verbOf(changes: readonly Change[]): Verb {
  const told = changes.filter(({ at }) => at !== "/asOf" && !isWithin(at, `/${BOOK_VALUES}`));
  const part = (["fact", "booking"] as const).find((one) => told.some(({ at }) => partOf(at) === one)) ??
    "input";
  const of = told.filter(({ at }) => partOf(at) === part);
  const { comes, goes, changes: other } = WORDS[part];
  const isRow = ({ index }: Change) => index !== undefined;
  if (of.length > 0 && of.every((one) => isRow(one) && one.from === undefined)) return comes;
  if (of.length > 0 && of.every((one) => isRow(one) && one.to === undefined)) return goes;
  // The next hand-over of a run that is on its way is news, not a correction.
  if (part === "fact" && of.every(({ from }) => from === undefined || isEmpty(from))) return "record";
  return other;
}

function isEmpty(value: unknown): boolean {
  return Array.isArray(value) && value.length === 0;
}

function partOf(place: string): Part {
  if (isFact(place)) return "fact";
  return isWithin(place, "/bookings") ? "booking" : "input";
}
