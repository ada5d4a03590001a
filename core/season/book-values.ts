import { canonicalJson } from "./canonical.ts";
import { type Path, pointer } from "./check/finding.ts";
import type { Season } from "./season.ts";

/**
 * The book values of a season that was made from another: each pointer follows its row to where that stands now, and goes when the
 * row is gone. `copies` names, by the id of a row, the rows that were copied from it: what nobody has replaced in the one, nobody has
 * in the other.
 */
export function bookValuesAfter(
  before: Season,
  after: Omit<Season, "bookValues">,
  copies: ReadonlyMap<string, readonly string[]> = new Map(),
): string[] {
  return [...new Set(before.bookValues.flatMap((one) => moved(one, before, after, copies)))];
}

function moved(
  text: string,
  before: unknown,
  after: unknown,
  copies: ReadonlyMap<string, readonly string[]>,
): string[] {
  let old = before;
  let ways: { path: Path; value: unknown }[] = [{ path: [], value: after }];
  for (const token of text.split("/").slice(1)) {
    const step = token.replaceAll("~1", "/").replaceAll("~0", "~");
    const list = old;
    ways = ways.flatMap(({ path, value }) =>
      stepsTo(list, step, value, copies).map((next) => ({
        path: [...path, next],
        value: (value as Record<string | number, unknown>)[next],
      }))
    );
    old = typeof old === "object" && old !== null ? (old as Record<string, unknown>)[step] : undefined;
  }
  return ways.map(({ path }) => pointer(path));
}

/** Where what stands at `step` of the old value stands in the new one. */
function stepsTo(
  old: unknown,
  step: string,
  now: unknown,
  copies: ReadonlyMap<string, readonly string[]>,
): (string | number)[] {
  if (typeof now !== "object" || now === null) return [];
  if (!Array.isArray(old) || !Array.isArray(now)) return [step];
  const row: unknown = old[Number(step)];
  if (row === undefined) return [];
  // A number in a list has nothing but its place, such as one month of twelve.
  if (typeof row !== "object" || row === null) return Number(step) < now.length ? [Number(step)] : [];
  const id = idOf(row);
  const like = id === undefined
    ? now.findIndex((one) => canonicalJson(one) === canonicalJson(row))
    : now.findIndex((one) => idOf(one) === id);
  const copied = (copies.get(id ?? "") ?? []).map((copy) => now.findIndex((one) => idOf(one) === copy));
  return [like, ...copied].filter((at) => at >= 0);
}

function idOf(row: unknown): string | undefined {
  const id = typeof row === "object" && row !== null ? (row as { id?: unknown }).id : undefined;
  return typeof id === "string" ? id : undefined;
}
