import { CONTENTS, farmSchema } from "../../../core/form/contents.ts";
import { keyFields, keyOf, rowPlace, spotAt } from "../../../core/form/place.ts";
import type { FormSource } from "../../../core/form/spot.ts";
import type { Season } from "../../../core/season/season.ts";

/** The source of the form of a place that is there. */
export function sourceAt(season: Season, place: string): FormSource {
  if (place === "") {
    const seen = Object.fromEntries(
      Object.keys(farmSchema.shape).map((key) => [key, season[key as keyof Season]]).filter(([, one]) =>
        one !== undefined
      ),
    );
    return { season, path: [], schema: farmSchema, seen };
  }
  const { path, schema, value } = spotAt(season, place)!;
  return { season, path, schema, seen: value };
}

/** The places of every form that a season has: each row of each list, and what is edited by itself. */
export function formPlaces(season: Season): string[] {
  return CONTENTS.flatMap(({ contents }) => contents).flatMap(({ place, kind }) => {
    if (kind === "form") return [place];
    const names = place.split("/").slice(1);
    const rows = spotAt(season, place)!.value as unknown[];
    return rows.map((row) => rowPlace(place, keyOf(row, keyFields(names))!));
  });
}
