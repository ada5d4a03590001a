import type { IsoDate } from "../calendar.ts";
import type { Entries } from "./node.ts";
import type { FormSource } from "./spot.ts";

/** Days on which something is recorded or booked are most often today. */
const TODAY = ["/on", "/orderedOn"];

/**
 * What stands in the form of a new row before anybody types: today, for what is done. A key is made when it is saved, so
 * that two people who record the same kind of thing do not meet in it.
 */
export function firstEntries({ path }: FormSource, today: IsoDate): Entries {
  const names = path.filter((step) => typeof step === "string");
  const entries = new Map<string, string[]>();
  if (names[0] === "records" || names[0] === "bookings") TODAY.forEach((name) => entries.set(name, [today]));
  return entries;
}
