import { createHash } from "node:crypto";
import { canonicalJson } from "../core/season/canonical.ts";
import type { Season } from "../core/season/season.ts";
import type { SeasonEntry } from "./_store/seasons.ts";

/** How a season goes into the store. */
export function seasonEntry(season: Season, now: Date): SeasonEntry {
  return { id: season.id, document: JSON.stringify(season), hash: hashOf(season), at: now.toISOString() };
}

/** SHA-256 of the season's canonical JSON, as `seasonHash` gives it, without waiting: a transaction cannot wait. */
export function hashOf(season: Season): string {
  return createHash("sha256").update(canonicalJson(season)).digest("hex");
}
