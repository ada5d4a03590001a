import type { Chosen, Taken } from "./chosen.ts";
import type { Ground } from "./ground.ts";
import { wholeGrams } from "./whole-grams.ts";

/** Every weight of grain that leaves a store or enters one, in whole grams. */
export type GrainGrams = ReadonlyMap<Taken, number>;

/** Whole grams, store by store in order of days, so that a store that is emptied is empty. */
export function grainGrams({ season, heaps }: Ground, chosen: Chosen): GrainGrams {
  const { runs, feed, seed, moves, fills } = chosen;
  const grams = new Map<Taken, number>();
  const into = (storeId: string, lotId: string, day: number) =>
    moves.filter((move) => move.toStoreId === storeId && move.lotId === lotId && move.day <= day)
      .reduce((sum, move) => sum + grams.get(move)! - moveLossG(season, grams.get(move)!), 0);
  for (const fill of fills) grams.set(fill, Math.floor(fill.massKg * 1000 + 1e-3));
  for (const { lotId, layKg, storeIds } of heaps.values()) {
    const leaving = (storeId: string): { part: Taken; day: number }[] =>
      [
        ...runs.flatMap(({ option, draws }) => draws.map((part) => ({ part, day: option.startDay }))),
        ...feed.flatMap(({ day, items }) => items.map((part) => ({ part, day }))),
        ...seed.map((part) => ({ part, day: part.day })),
        ...moves.map((part) => ({ part, day: part.day })),
      ].filter(({ part }) => part.storeId === storeId && part.lotId === lotId).sort((a, b) => a.day - b.day);
    const takesMoves = (storeId: string) => moves.some((move) => move.toStoreId === storeId);
    // Stores into which grain is moved come last, when it is known how much that is.
    for (const storeId of [...storeIds].sort((a, b) => Number(takesMoves(a)) - Number(takesMoves(b)))) {
      const parts = leaving(storeId);
      const filledG = fills.filter((fill) => fill.storeId === storeId && fill.lotId === lotId)
        .reduce((sum, fill) => sum + grams.get(fill)!, 0);
      const wholeG = Math.round((layKg.get(storeId) ?? 0) * 1000) + filledG + into(storeId, lotId, Infinity);
      const rounded = wholeGrams(parts.map(({ part }) => part.massKg), wholeG);
      parts.forEach(({ part }, place) => grams.set(part, rounded[place]!));
    }
  }
  return grams;
}

/** What is lost on the way when so many grams are moved. */
export function moveLossG(season: Ground["season"], massG: number): number {
  return Math.round(season.costs.moveLoss * massG);
}
