import type { Season } from "../core/season/season.ts";
import type { SeasonEntry } from "./_store/seasons.ts";
import { hashSeason } from "./_stub.ts";

/** How a season goes into the store. Throws nothing: the season has passed its schema. */
export function seasonEntry(season: Season, now: Date): SeasonEntry {
  return { id: season.id, document: JSON.stringify(season), hash: hashSeason(season), at: now.toISOString() };
}
