import { z } from "zod";
import type { Path } from "../season/check/finding.ts";
import { wholeSchemaAt } from "../season/check/walk.ts";
import { type Season, seasonSchema } from "../season/season.ts";

/**
 * Where something stands in a season, by the names of rows: `/lots/=lot-a/moistureWb`. A row's name is its key, so a
 * place goes on meaning the same row when rows before it come or go. The whole season is the empty text.
 */
export type Place = string;

/** A place that leads somewhere. */
export interface Found {
  readonly place: Place;
  /** Field names and row numbers from the top; a row that is yet to be added has the number after the last. */
  readonly path: Path;
  readonly schema: z.core.$ZodType;
  /** What stands there; undefined for a row that is yet to be added, and for a value that is left out. */
  readonly value: unknown;
  /** True when the spot is a row of a list. */
  readonly row: boolean;
}

/** The last step of a place that stands for a row yet to be added, as in JSON Pointer. */
export const NEW_ROW = "-";

/** Keys of the rows of lists whose rows have no id of their own. */
const OTHER_KEYS: Readonly<Record<string, readonly string[]>> = {
  "opening.grain": ["lotId", "storeId"],
  "opening.tanks": ["tankId"],
  "records.brews": ["brewId"],
  "bookings.brews": ["brewId"],
};

/** Names of the fields that make up the key of a list's rows; the list is named by its field and the one before it. */
export function keyFields(names: readonly string[]): readonly string[] {
  return OTHER_KEYS[names.slice(-2).join(".")] ?? ["id"];
}

/** The key of a row, or null when it has none. */
export function keyOf(row: unknown, fields: readonly string[]): string | null {
  if (typeof row !== "object" || row === null) return null;
  const parts = fields.map((field) => (row as Record<string, unknown>)[field]);
  return parts.every((part) => typeof part === "string") ? parts.join(" ") : null;
}

/** The place of a row with this key in the list at a place. */
export function rowPlace(list: Place, key: string): Place {
  return `${list}/=${escaped(key)}`;
}

/** Finds what a place means in a season, or null when it leads nowhere. */
export function spotAt(season: Season, place: Place): Found | null {
  if (place !== "" && !place.startsWith("/")) return null;
  const path: (string | number)[] = [];
  const names: string[] = [];
  let value: unknown = season, row = false;
  for (const step of place.split("/").slice(1)) {
    row = Array.isArray(value);
    const next = Array.isArray(value) ? rowNumber(value, step, names) : unescaped(step);
    if (next === -1 || typeof value !== "object" || value === null) return null;
    if (typeof next === "string") names.push(next);
    path.push(next);
    value = Object.hasOwn(value, next) ? (value as Record<string | number, unknown>)[next] : undefined;
  }
  const schema = wholeSchemaAt(seasonSchema, season, path);
  return schema === undefined ? null : { place, path, schema, value, row };
}

function rowNumber(rows: readonly unknown[], step: string, names: readonly string[]): number {
  if (step === NEW_ROW) return rows.length;
  if (!step.startsWith("=")) return -1;
  const key = unescaped(step.slice(1)), fields = keyFields(names);
  return rows.findIndex((row) => keyOf(row, fields) === key);
}

function escaped(key: string): string {
  return key.replaceAll("~", "~0").replaceAll("/", "~1");
}

function unescaped(step: string): string {
  return step.replaceAll("~1", "/").replaceAll("~0", "~");
}
