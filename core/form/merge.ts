import { canonicalJson } from "../season/canonical.ts";
import { keyBy } from "../edit/place.ts";

/** Two people's changes of one value, put together. */
export interface Merged {
  /** What stands there now with my changes in it; a row that I took out still stands there. */
  readonly value: unknown;
  /** JSON pointers of the rows in `value` that I took out. */
  readonly out: readonly string[];
  /** JSON pointers in `value` of the fields that both of us changed. */
  readonly both: readonly string[];
}

/** What is noted on the way. */
interface Notes {
  readonly out: string[];
  readonly both: string[];
}

/**
 * Puts my changes of what I saw into what stands there now. Where both changed one field, mine is taken, so that I can be
 * asked about it; a list whose rows have no ids is one field.
 */
export function merge(seen: unknown, mine: unknown, now: unknown): Merged {
  const notes: Notes = { out: [], both: [] };
  return { value: mergeAt(seen, mine, now, "", notes), ...notes };
}

function mergeAt(seen: unknown, mine: unknown, now: unknown, name: string, notes: Notes): unknown {
  if (same(mine, seen) || same(mine, now)) return now;
  // Rows and groups are gone through even when nobody else changed them, so that rows that I took out are noted.
  if (isRows(seen) && isRows(mine) && isRows(now)) return mergeRows(seen, mine, now, name, notes);
  if (isGroup(seen) && isGroup(mine) && isGroup(now)) return mergeGroup(seen, mine, now, name, notes);
  if (same(now, seen)) return mine;
  notes.both.push(name);
  return mine;
}

function mergeGroup(seen: Group, mine: Group, now: Group, name: string, notes: Notes): Group {
  const keys = new Set([...Object.keys(now), ...Object.keys(mine)]);
  const merged = [...keys].map((key) =>
    [key, mergeAt(seen[key], mine[key], now[key], `${name}/${key}`, notes)] as const
  );
  return Object.fromEntries(merged.filter(([, value]) => value !== undefined));
}

function mergeRows(seen: Keyed[], mine: Keyed[], now: Keyed[], name: string, notes: Notes): Keyed[] {
  const of = (rows: Keyed[], id: string) => rows.find((row) => row.id === id);
  const staying = now.map((row, index) => {
    const before = of(seen, row.id), after = of(mine, row.id);
    if (before !== undefined && after === undefined) notes.out.push(`${name}/${index}`);
    return after === undefined ? row : mergeAt(before, after, row, `${name}/${index}`, notes) as Keyed;
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
  return Array.isArray(value) && value.every((row) => keyBy(row, ["id"]) !== null);
}

function same(a: unknown, b: unknown): boolean {
  return canonicalJson(a) === canonicalJson(b);
}
