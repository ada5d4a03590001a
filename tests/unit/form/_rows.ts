import { CONTENTS } from "../../../core/form/contents.ts";
import { keyBy, keyFields, rowBelow } from "../../../core/edit/place.ts";
import { spotAt } from "../../../core/form/place.ts";
import type { Season } from "../../../core/season/season.ts";

/** The places of every form that a season has: each row of each list, and what is edited by itself. */
export function formPlaces(season: Season): string[] {
  return CONTENTS.flatMap(({ contents }) => contents).flatMap(({ place, kind }) => {
    if (kind === "form") return [place];
    const names = place.split("/").slice(1);
    const rows = spotAt(season, place)!.value as unknown[] ?? [];
    return rows.map((row) => rowBelow(place, keyBy(row, keyFields(names))!));
  });
}
