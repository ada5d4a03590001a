import type { Season } from "../season/season.ts";
import { contentOf, farmSchema } from "./contents.ts";
import { type Place } from "../edit/place.ts";
import { spotAt } from "./place.ts";
import type { FormSource } from "./spot.ts";

/** The fields that stand at the top of the season file and are edited on one form. */
export function farmFields(season: Season): Record<string, unknown> {
  const fields = Object.keys(farmSchema.shape).map((key) => [key, season[key as keyof Season]] as const);
  return Object.fromEntries(fields.filter(([, value]) => value !== undefined));
}

/** What the form at a place is made from, or null when there is no form at it. A new row is at `/lots/-`. */
export function formSource(season: Season, place: Place): FormSource | null {
  if (place === "") return { season, path: [], schema: farmSchema, seen: farmFields(season) };
  const content = contentOf(place);
  const found = spotAt(season, place);
  if (content === null || found === null || found.row !== (content.kind === "list")) return null;
  return { season, path: found.path, schema: found.schema, seen: found.value };
}
