import type { Place } from "../../core/edit/place.ts";

/** What is done to rows, in the words for this part of the season: facts, bookings, or everything else. */
export interface Verbs {
  readonly add: string;
  readonly change: string;
  readonly takeOut: string;
  readonly added: string;
  readonly changed: string;
  readonly takenOut: string;
}

const PLAIN: Verbs = {
  add: "Add",
  change: "Change",
  takeOut: "Take out",
  added: "added",
  changed: "saved",
  takenOut: "taken out",
};

const FACTS: Verbs = {
  add: "Record",
  change: "Correct",
  takeOut: "Withdraw",
  added: "recorded",
  changed: "corrected",
  takenOut: "withdrawn",
};

const BOOKINGS: Verbs = { ...PLAIN, add: "Book", takeOut: "Unbook", added: "booked", takenOut: "unbooked" };

/** The words for what is done at a place. */
export function verbsAt(place: Place): Verbs {
  if (place.startsWith("/records/")) return FACTS;
  return place.startsWith("/bookings/") ? BOOKINGS : PLAIN;
}

/** Address of a page of the farm that is about a place. */
export function farmAddress(seasonId: string, page: "list" | "form", place: Place): string {
  return `/seasons/${seasonId}/farm/${page}?at=${encodeURIComponent(place).replaceAll("%2F", "/")}`;
}

/** One of what a word names, as it is said: "an order", "a lot", "grain in store". */
export function one(word: string): string {
  if (word.startsWith("grain")) return word;
  return `${/^[aeiou]/.test(word) ? "an" : "a"} ${word}`;
}
