import { canonicalJson } from "./canonical.ts";
import { pointer, valueAt } from "./check/finding.ts";
import type { Season } from "./season.ts";

/**
 * The book values of a season after a change. One that was replaced by another value is the farm's own from then on, and
 * one whose row is gone is dropped; where rows before it went or came, its pointer moves with its own row. What was
 * changed in the list of book values itself stays as it was changed.
 */
export function bookValuesAfter(before: Season, after: Season): string[] {
  if (canonicalJson(before.bookValues) !== canonicalJson(after.bookValues)) return after.bookValues;
  return before.bookValues.flatMap((one) => {
    const steps = one.split("/").slice(1).map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
    const path = followed(before, after, steps);
    if (path === null) return [];
    const kept = canonicalJson(valueAt(before, steps)) === canonicalJson(valueAt(after, path));
    return kept ? [pointer(path)] : [];
  });
}

/** The same way in the season after the change, by the ids of the rows it leads through; null when a row is gone. */
function followed(before: unknown, after: unknown, steps: readonly string[]): string[] | null {
  const path: string[] = [];
  let was = before, is = after;
  for (const step of steps) {
    const id = Array.isArray(was) && Array.isArray(is) ? valueAt(was, [step, "id"]) : undefined;
    const row = id === undefined ? -1 : (is as unknown[]).findIndex((one) => valueAt(one, ["id"]) === id);
    if (id !== undefined && row === -1) return null;
    const next = id === undefined ? step : String(row);
    path.push(next);
    was = valueAt(was, [step]);
    is = valueAt(is, [next]);
  }
  return path;
}
