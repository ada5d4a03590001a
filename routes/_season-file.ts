import { seasonHash } from "../core/season/canonical.ts";
import type { Season } from "../core/season/season.ts";
import type { SeasonEntry } from "./_store/seasons.ts";

/** How a season goes into the store. Throws nothing: the season has passed its schema. */
export async function seasonEntry(season: Season, now: Date): Promise<SeasonEntry> {
  return {
    id: season.id,
    document: JSON.stringify(season),
    hash: await seasonHash(season),
    at: now.toISOString(),
  };
}
