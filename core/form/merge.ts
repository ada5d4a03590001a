import { canonicalJson } from "../season/canonical.ts";
import { keyOf } from "./place.ts";

/** Two people's changes of one value, put together. */
export interface Merged {
  /** What stands there now with my changes in it; a row that I took out still stands there. */
  readonly value: unknown;
  /** JSON pointers of the rows in `value` that I took out. */
  readonly out: readonly string[];
}

/**
 * Puts my changes of what I saw into what stands there now. Where both changed one field, mine is taken, so that I can be
 * asked about it; a list whose rows have no ids is one field.
 */
export function merge(seen: unknown, mine: unknown, now: unknown): Merged {
  const out: string[] = [];
  return { value: mergeAt(seen, mine, now, "", out), out };
}

function mergeAt(seen: unknown, mine: unknown, now: unknown, name: string, out: string[]): unknown {
  if (same(mine, seen)) return now;
  if (same(now, seen)) return isRows(seen) && isRows(mine) ? mergeRows(seen, mine, seen, name, out) : mine;
  if (isRows(seen) && isRows(mine) && isRows(now)) return mergeRows(seen, mine, now, name, out);
  if (isGroup(seen) && isGroup(mine) && isGroup(now)) return mergeGroup(seen, mine, now, name, out);
  return mine;
}

function mergeGroup(seen: Group, mine: Group, now: Group, name: string, out: string[]): Group {
  const keys = new Set([...Object.keys(now), ...Object.keys(mine)]);
  const merged = [...keys].map((key) =>
    [key, mergeAt(seen[key], mine[key], now[key], `${name}/${key}`, out)] as const
  );
  return Object.fromEntries(merged.filter(([, value]) => value !== undefined));
}

function mergeRows(seen: Keyed[], mine: Keyed[], now: Keyed[], name: string, out: string[]): Keyed[] {
  const of = (rows: Keyed[], id: string) => rows.find((row) => row.id === id);
  const staying = now.map((row, index) => {
    const before = of(seen, row.id), after = of(mine, row.id);
    if (before !== undefined && after === undefined) out.push(`${name}/${index}`);
    return after === undefined ? row : mergeAt(before, after, row, `${name}/${index}`, out) as Keyed;
  });
  const added = mine.filter((row) => of(now, row.id) === undefined && !same(of(seen, row.id), row));
  return [...staying, ...added];
}

type Group = Readonly<Record<string, unknown>>;
type Keyed = { readonly id: string };

function isGroup(value: unknown): value is Group {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isRows(value: unknown): value is Keyed[] {
  return Array.isArray(value) && value.every((row) => keyOf(row, ["id"]) !== null);
}

function same(a: unknown, b: unknown): boolean {
  return canonicalJson(a) === canonicalJson(b);
}
