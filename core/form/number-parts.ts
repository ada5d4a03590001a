import { z } from "zod";
import { pointer } from "../season/check/finding.ts";
import { dictionary, OWN_FIGURE, type QuantityMeta } from "../season/quantity.ts";
import type { NumberFacts, Standing } from "./node.ts";
import { numberText } from "./number-text.ts";
import { type ReaderUnit, readerUnit } from "./reader-unit.ts";
import type { Spot } from "./spot.ts";

/** What only a number has on a form. */
export interface NumberParts {
  readonly toFile: (digits: string) => number;
  readonly toText: (inFile: number) => string;
  readonly facts: NumberFacts;
  readonly standing?: Standing;
  readonly unlikely: boolean;
}

/** How a number is shown and read, what the data dictionary says of it, and whose word it is. */
export function numberParts(spot: Spot, schema: z.ZodNumber): NumberParts {
  const entry = dictionary.get(schema);
  const inFile = entry?.unit ?? String(z.globalRegistry.get(schema)?.unit ?? "");
  const { readerUnits: units, currency } = spot.source.season;
  const reader = readerUnit(inFile, { units, currency, crop: spot.crop, path: spot.path });
  const style = { ...reader, grouped: inFile !== "" };
  const toText = (value: number) => numberText(reader.toReader(value), style);
  // Whole grams and whole cents: nobody counts in thirds of a cent.
  const whole = schema.isInt && (inFile === "g" || inFile === "cent");
  return {
    toFile: (digits) => whole ? Math.round(reader.toFile(digits)) : reader.toFile(digits),
    toText,
    facts: {
      unit: reader.unit,
      basis: entry?.basis ?? "",
      plausible: entry === undefined ? "" : plausibleWords(entry, reader, toText),
      source: entry === undefined || entry.source === OWN_FIGURE ? "" : entry.source,
    },
    ...(entry === undefined ? {} : { standing: standingOf(spot) }),
    unlikely: entry !== undefined && typeof spot.seen === "number" &&
      (spot.seen < entry.plausible[0] || spot.seen > entry.plausible[1]),
  };
}

/** The range in which one would expect a number; empty when it is as wide as the file's own limits. */
function plausibleWords(
  { plausible: [least, greatest], limits }: QuantityMeta,
  { unit }: ReaderUnit,
  toText: (value: number) => string,
): string {
  if (least === limits[0] && greatest === limits[1]) return "";
  return `${toText(least)} to ${toText(greatest)} ${unit}`.trim();
}

/** Parts of the season in which every number was weighed, counted or measured by somebody. */
const MEASURED = new Set(["records", "opening", "weighTickets"]);

function standingOf({ source, path, name }: Spot): Standing {
  if (MEASURED.has(path[0] ?? "") || path.includes("analyses")) return "measured";
  const at = pointer(source.path) + name;
  const book = source.season.bookValues.some((one) => at === one || at.startsWith(`${one}/`));
  return book ? "book value" : "own figure";
}
