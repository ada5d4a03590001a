import { dateOf, dayNumber } from "../calendar.ts";
import { recordedGrain, storesOfLot } from "./grain-events.ts";
import type { Season } from "./season.ts";

/** What of a reserve left one store. */
export interface SeedPart {
  readonly reserveId: string;
  readonly day: number;
  readonly lotId: string;
  readonly storeId: string;
  readonly massG: number;
}

/**
 * Seed that has left between the opening position and as-of, part by part. Nobody records from which store, so reserves are
 * taken in order of day, each from the stores that hold the lot at that day's end, in the order in which they first held it.
 * What they do not hold is missing from the first of all; of a lot that never lay anywhere nothing is taken. Seed of as-of's
 * own day is still to be taken: it stands in the plan.
 */
export function pastSeed(season: Season, asOfDay: number): SeedPart[] {
  const opened = dayNumber(dateOf(season.positionAt));
  const due = season.seedReserves.map((reserve) => ({ ...reserve, day: dayNumber(reserve.on) }))
    .filter(({ day }) => day >= opened && day < asOfDay)
    .sort((a, b) => a.day - b.day);
  if (due.length === 0) return [];
  const events = recordedGrain(season, asOfDay);
  const parts: SeedPart[] = [];
  for (const { id: reserveId, lotId, day, massG } of due) {
    const stores = storesOfLot(season, events, lotId);
    let leftG = massG;
    const take = (storeId: string, partG: number) => {
      if (partG > 0) parts.push({ reserveId, day, lotId, storeId, massG: partG });
      leftG -= partG;
    };
    for (const storeId of stores) {
      const here = (one: { lotId: string; storeId: string }) =>
        one.lotId === lotId && one.storeId === storeId;
      const cameG = events.reduce((sum, one) => here(one) && one.day <= day ? sum + one.deltaG : sum, 0);
      const takenG = parts.reduce((sum, one) => here(one) ? sum + one.massG : sum, 0);
      take(storeId, Math.min(leftG, Math.max(0, cameG - takenG)));
    }
    const [first] = stores;
    if (first !== undefined) take(first, leftG);
  }
  return parts;
}
