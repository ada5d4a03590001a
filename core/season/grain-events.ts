import { dateOf, dayNumber } from "../calendar.ts";
import type { Season } from "./season.ts";

/** A weight of one lot that came into a store (positive) or left it, in grams. */
export interface GrainEvent {
  readonly day: number;
  readonly lotId: string;
  readonly storeId: string;
  readonly deltaG: number;
}

/**
 * The opening stocks and every recorded change of grain in store up to and including a day, oldest first. What is dated before
 * the opening position is in its stocks already. Seed leaves without a record; see `pastSeed`.
 */
export function recordedGrain(season: Season, lastDay: number): GrainEvent[] {
  const events: GrainEvent[] = [];
  const opened = dateOf(season.positionAt);
  const put = (on: string, lotId: string, storeId: string, deltaG: number) => {
    const day = dayNumber(on);
    if (on >= opened && day <= lastDay) events.push({ day, lotId, storeId, deltaG });
  };
  const { records } = season;
  for (const one of season.opening.grain) put(opened, one.lotId, one.storeId, one.massG);
  for (const fill of records.fills) put(fill.on, fill.lotId, fill.storeId, fill.massG);
  for (const run of records.runs) {
    // A run that was in the vessels at positionAt drew its grain before the opening stocks were taken.
    if (run.steepInAt < season.positionAt) continue;
    for (const draw of run.draws) put(dateOf(run.steepInAt), draw.lotId, draw.storeId, -draw.massG);
  }
  for (const brew of records.brews) {
    for (const use of brew.grist) {
      if (use.from.kind === "lot") put(brew.on, use.from.lotId, use.from.storeId, -use.massG);
    }
  }
  for (const load of records.feedLoads) {
    for (const item of load.items) put(load.on, item.lotId, item.storeId, -item.massG);
  }
  for (const move of records.moves) {
    put(move.on, move.lotId, move.fromStoreId, -move.massG);
    put(move.on, move.lotId, move.toStoreId, move.massG - move.lossG);
  }
  for (const mix of records.mixes) {
    let total = 0;
    for (const parent of mix.parents) {
      put(mix.on, parent.lotId, parent.storeId, -parent.massG);
      total += parent.massG;
    }
    put(mix.on, mix.intoLotId, mix.storeId, total);
  }
  for (const one of records.deliveries) put(one.on, one.lotId, one.storeId, -one.massG);
  for (const one of records.adjustments) {
    if (one.lotId && one.storeId) put(one.on, one.lotId, one.storeId, one.deltaG);
  }
  return events.sort((a, b) => a.day - b.day);
}

/**
 * Ids of the stores that ever held a lot, in the order in which they first did; of one day, in the order in which the season
 * lists its stores.
 */
export function storesOfLot(season: Season, events: readonly GrainEvent[], lotId: string): string[] {
  const since = new Map<string, number>();
  for (const { day, storeId, ...event } of events) {
    if (event.lotId !== lotId || event.deltaG <= 0) continue;
    since.set(storeId, Math.min(since.get(storeId) ?? Infinity, day));
  }
  const place = new Map(season.stores.map((store, at) => [store.id, at]));
  return [...since].sort(([a, dayA], [b, dayB]) => dayA - dayB || (place.get(a) ?? 0) - (place.get(b) ?? 0))
    .map(([storeId]) => storeId);
}
