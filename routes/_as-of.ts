import type { Season } from "../core/season/season.ts";
import { wallTime } from "../core/zone.ts";

/**
 * The season as it stands now: what is earlier than `asOf` is fact, what is later is plan. On a live farm that is
 * this minute on the farm's clock; a demo stands still at its `fixedAsOf`. Records of the future cannot be: when the
 * stored `asOf` is later than the clock, it stays.
 */
export function asOfNow(season: Season, now: Date): Season {
  const clock = wallTime(season.zone, Math.floor(now.getTime() / 60_000));
  const asOf = season.fixedAsOf ?? (clock > season.asOf ? clock : season.asOf);
  return { ...season, asOf };
}
