import type { Facts } from "./note-facts.ts";
import { carriedOver, repeated } from "./notes-kept.ts";
import { dropped, toEnter } from "./notes-left.ts";

/** A sentence about the new season for the person who begins it. */
export interface NextNote {
  readonly kind: "carried over" | "repeated" | "dropped" | "to enter";
  readonly text: string;
}

/** What was carried over, what is repeated, what was dropped, and what has to be entered now, in this order. */
export function notesOf(facts: Facts): NextNote[] {
  const of = (kind: NextNote["kind"], texts: readonly string[]) => texts.map((text) => ({ kind, text }));
  return [
    ...of("carried over", carriedOver(facts)),
    ...of("repeated", repeated(facts)),
    ...of("dropped", dropped(facts)),
    ...of("to enter", toEnter(facts)),
  ];
}
