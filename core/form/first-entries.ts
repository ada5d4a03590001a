import { z } from "zod";
import type { IsoDate } from "../calendar.ts";
import { rowWord } from "../season/check/thing.ts";
import { nextId, stemOf, usedIds } from "./free-id.ts";
import type { Entries } from "./node.ts";
import type { FormSource } from "./spot.ts";

/** Days on which something is recorded or booked are most often today. */
const TODAY = ["/on", "/orderedOn"];

/** What stands in the form of a new row before anybody types: a key for what has no name, and today for what is done. */
export function firstEntries({ season, path, schema }: FormSource, today: IsoDate): Entries {
  const names = path.filter((step) => typeof step === "string");
  const entries = new Map<string, string[]>();
  if (names[0] === "records" || names[0] === "bookings") TODAY.forEach((name) => entries.set(name, [today]));
  const shapes = schema instanceof z.ZodDiscriminatedUnion ? schema.options : [schema];
  const hasName = shapes.some((one) => one instanceof z.ZodObject && "name" in one.shape);
  const stem = stemOf(rowWord(names).replace(/^(recorded|booked) /, ""));
  if (!hasName) entries.set("/id", [nextId(stem, usedIds(season))]);
  return entries;
}
