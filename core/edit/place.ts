import { isObject, type Json, type JsonObject } from "./json.ts";

/**
 * Where a value stands in a season: a JSON Pointer (RFC 6901) in which a row of a list is named by its key and not by its
 * number, so that it stays true when other rows come and go: `/lots/=lot-a/moistureWb`. A step that begins with `=` is
 * such a key. Lists whose rows have no key of their own are one value; the whole season is the empty text.
 */
export type Place = string;

/** What names a row, where that is not its `id`. */
const KEYS: Readonly<Record<string, readonly string[]>> = {
  "records/brews": ["brewId"],
  "bookings/brews": ["brewId"],
  "opening/grain": ["lotId", "storeId"],
  "opening/tanks": ["tankId"],
};

/** The fields that make up the key of a list's rows; `names` are the fields from the top of the season to the list. */
export function keyFields(names: readonly string[]): readonly string[] {
  return KEYS[names.join("/")] ?? ["id"];
}

/** The list of places at which nobody has replaced the book value; its rows are their own keys. */
export const BOOK_VALUES = "bookValues";

/** The steps of a place, keys still with their `=`. */
export function stepsOf(place: Place): string[] {
  return place.split("/").slice(1).map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
}

/** The place of steps. */
export function placeOf(steps: readonly string[]): Place {
  return steps.map((step) => `/${step.replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}

/** The place one step further in. */
export function below(place: Place, step: string): Place {
  return place + placeOf([step]);
}

/** The place of a row in a list. */
export function rowBelow(list: Place, key: string): Place {
  return below(list, `=${key}`);
}

/** True when `place` is `outer` or stands in it. */
export function isWithin(place: Place, outer: Place): boolean {
  return place === outer || place.startsWith(`${outer}/`);
}

/** The place that a value stands in: its list, its row, its group of fields. */
export function outerOf(place: Place): Place {
  return place.slice(0, Math.max(place.lastIndexOf("/"), 0));
}

/** The key of a row, or null where it has none. `list` is the place of the list it stands in. */
export function keyOf(row: Json, list: Place): string | null {
  if (typeof row === "string") return list === `/${BOOK_VALUES}` ? row : null;
  return keyBy(row, keyFields(stepsOf(list)));
}

/** The key that these fields of a row make up, or null where one of them is no text. */
export function keyBy(row: unknown, fields: readonly string[]): string | null {
  if (!isObject(row)) return null;
  const parts = fields.map((field) => row[field]);
  return parts.every((part) => typeof part === "string") ? parts.join(" ") : null;
}

/** The rows of a list by key, in order, or null when it is a list whose rows are not told apart by keys. */
export function rowsByKey(list: readonly Json[], place: Place): Map<string, Json> | null {
  const rows = new Map<string, Json>();
  for (const row of list) {
    const key = keyOf(row, place);
    if (key === null || rows.has(key)) return null;
    rows.set(key, row);
  }
  return rows;
}

/** What stands at a place, or undefined. */
export function valueAt(document: JsonObject, place: Place): Json | undefined {
  let value: Json | undefined = document;
  let at: Place = "";
  for (const step of stepsOf(place)) {
    value = stepInto(value, at, step);
    at = below(at, step);
  }
  return value;
}

function stepInto(value: Json | undefined, at: Place, step: string): Json | undefined {
  if (Array.isArray(value)) {
    if (step.startsWith("=")) return value.find((row) => keyOf(row, at) === step.slice(1));
    return /^\d+$/.test(step) ? value[Number(step)] : undefined;
  }
  return isObject(value) && Object.hasOwn(value, step) ? value[step] : undefined;
}
