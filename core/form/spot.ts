import { z } from "zod";
import type { Path } from "../season/check/finding.ts";
import { unwrapped } from "../season/check/walk.ts";
import type { Season } from "../season/season.ts";
import type { GrainCrop } from "../units.ts";
import type { Entries } from "./node.ts";

type Schema = z.core.$ZodType;

/** What a form is made from. */
export interface FormSource {
  /** The season that the value belongs to: its units, its money, and what an id can name. */
  readonly season: Season;
  /** Where the value stands in the season, or would stand. */
  readonly path: Path;
  readonly schema: Schema;
  /** The value that the person saw; undefined for one that is yet to be added. */
  readonly seen: unknown;
}

/** Where the making of a form has got to. */
export interface Spot {
  readonly source: FormSource;
  readonly entries: Entries | undefined;
  /** JSON pointer from the top of the form. */
  readonly name: string;
  readonly label: string;
  /** Names of fields from the top of the season to here, without row numbers. */
  readonly path: readonly string[];
  readonly schema: Schema;
  readonly seen: unknown;
  /** The crop of the thing around, as it was seen; a yield in bushels is of that crop. */
  readonly crop: GrainCrop | undefined;
  /** True for what names the whole row: it is never changed once it is there. */
  readonly key: boolean;
}

/** What is said of a spot whatever is filled in there. */
export function named(spot: Spot): { name: string; label: string; meaning: string; optional: boolean } {
  const { schema, optional, fallback } = unwrapped(spot.schema);
  const meaning = [spot.schema, schema].map((one) => z.globalRegistry.get(one)?.description).find(Boolean);
  return {
    name: spot.name,
    label: spot.label,
    meaning: meaning ?? "",
    optional: optional || fallback !== undefined,
  };
}
