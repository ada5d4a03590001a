import { z } from "zod";
import { keyBy, keyFields, type Place, stepsOf } from "../edit/place.ts";
import type { Path } from "../season/check/finding.ts";
import { wholeSchemaAt } from "../season/check/walk.ts";
import { type Season, seasonSchema } from "../season/season.ts";

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

/** Finds what a place means in a season, or null when it leads nowhere. */
export function spotAt(season: Season, place: Place): Found | null {
  if (place !== "" && !place.startsWith("/")) return null;
  const path: (string | number)[] = [];
  const names: string[] = [];
  let value: unknown = season, row = false;
  for (const step of stepsOf(place)) {
    // A list that may be left out is a list without rows.
    const rows = value === undefined && isRowStep(step) ? [] : value;
    row = Array.isArray(rows);
    const next = Array.isArray(rows) ? rowNumber(rows, step, names) : step;
    if (next === -1 || typeof rows !== "object" || rows === null) return null;
    if (typeof next === "string") names.push(next);
    path.push(next);
    value = Object.hasOwn(rows, next) ? (rows as Record<string | number, unknown>)[next] : undefined;
  }
  const schema = wholeSchemaAt(seasonSchema, season, path);
  return schema === undefined ? null : { place, path, schema, value, row };
}

function isRowStep(step: string): boolean {
  return step === NEW_ROW || step.startsWith("=");
}

function rowNumber(rows: readonly unknown[], step: string, names: readonly string[]): number {
  if (step === NEW_ROW) return rows.length;
  if (!step.startsWith("=")) return -1;
  const key = step.slice(1), fields = keyFields(names);
  return rows.findIndex((row) => keyBy(row, fields) === key);
}
