import { z } from "zod";
import { isObject, type Json, type JsonObject, sameJson } from "./json.ts";
import { below, type Place, rowBelow, rowsByKey } from "./place.ts";

/**
 * One value of a season set to another: `from` is what stood there, `to` what stands there now, and what is left out is
 * nothing. A row that comes or goes is one change; `index` is its number in the list in which it stands.
 */
export interface Change {
  readonly at: Place;
  readonly from?: Json | undefined;
  readonly to?: Json | undefined;
  readonly index?: number | undefined;
}

/** The longest place that is taken; the deepest of the season file is far shorter. */
const LONGEST_PLACE = 400;

/** A change as it comes from outside. */
export const changeSchema: z.ZodType<Change> = z.strictObject({
  at: z.string().max(LONGEST_PLACE),
  from: z.json().optional(),
  to: z.json().optional(),
  index: z.int().min(0).optional(),
});

/** What has to be done to `before` so that it becomes `after`, value by value and row by row. Both hold places as marks. */
export function changesBetween(before: JsonObject, after: JsonObject): Change[] {
  const changes: Change[] = [];
  compare(before, after, "", changes);
  return changes;
}

/** What has to be done at one place so that `seen` becomes `value`; undefined is nothing. */
export function changesAt(place: Place, seen: Json | undefined, value: Json | undefined): Change[] {
  const changes: Change[] = [];
  compare(seen, value, place, changes);
  return changes;
}

/** The changes that take these back. */
export function inverseOf(changes: readonly Change[]): Change[] {
  return changes.map(({ at, from, to, index }) => ({ at, from: to, to: from, index }));
}

function compare(before: Json | undefined, after: Json | undefined, at: Place, changes: Change[]): void {
  if (sameJson(before, after)) return;
  if (isObject(before) && isObject(after)) {
    for (const key of new Set([...Object.keys(before), ...Object.keys(after)])) {
      compare(before[key], after[key], below(at, key), changes);
    }
    return;
  }
  if (Array.isArray(before) && Array.isArray(after) && compareRows(before, after, at, changes)) return;
  changes.push({ at, from: before, to: after });
}

/** Compares keyed rows. Says no when the rows have no keys, or when those that stayed have changed their order. */
function compareRows(before: readonly Json[], after: readonly Json[], at: Place, changes: Change[]): boolean {
  const was = rowsByKey(before, at), is = rowsByKey(after, at);
  if (was === null || is === null) return false;
  const [stayed, stay] = [
    [...was.keys()].filter((key) => is.has(key)),
    [...is.keys()].filter((key) => was.has(key)),
  ];
  if (stayed.some((key, index) => key !== stay[index])) return false;
  [...was].forEach(([key, row], index) => {
    if (!is.has(key)) changes.push({ at: rowBelow(at, key), from: row, index });
  });
  [...is].forEach(([key, row], index) => {
    if (was.has(key)) compare(was.get(key), row, rowBelow(at, key), changes);
    else changes.push({ at: rowBelow(at, key), to: row, index });
  });
  return true;
}
