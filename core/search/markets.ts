import type { Demand, Line, Problem } from "./problem.ts";

/** When a material can be had from outside, and about what a gram of its extract costs there. */
export interface Market {
  /** By day from as-of: 1 when an order made after as-of can have arrived and still be fresh. */
  open: Uint8Array;
  /** By day from as-of: the last day, from as-of too, on or before it on which any order arrives; the day itself where none does. */
  arrived: Int16Array;
  centsPerExtractG: number;
  freightCents: number;
  packExtractG: number;
  leastPacks: number;
  packG: number;
  /** Days from arrival for which its malt is good. */
  shelfDays: number;
}

/** The markets of all materials. The cheapest offer by extract stands for its material's price. */
export function marketsOf(problem: Problem): Market[] {
  const length = problem.endDay - problem.asOfDay + 2;
  return problem.materials.map((material) => {
    const open = new Uint8Array(length);
    const arrivals = new Set(material.offers.flatMap((offer) => offer.arrivals));
    let last = -1;
    const arrived = Int16Array.from({ length }, (_, d) => {
      if (arrivals.has(problem.asOfDay + d)) last = d;
      return last < 0 ? d : last;
    });
    let best = Infinity;
    let freightCents = 0;
    let packExtractG = 1;
    let leastPacks = 1;
    let packG = 1;
    let shelfDays = Infinity;
    for (const offer of material.offers) {
      let freshUntil = -1;
      for (const arrival of offer.arrivals) {
        const from = Math.max(arrival - problem.asOfDay, freshUntil + 1, 0);
        freshUntil = arrival - problem.asOfDay + offer.shelfDays;
        for (let d = from; d < length && d <= freshUntil; d++) open[d] = 1;
      }
      // Raw grain's extract stands on the grist line; as a market it is priced by weight.
      const perG = material.malt ? offer.extract : 1;
      const cents = offer.packCents / (offer.packG * perG);
      if (cents < best) {
        best = cents;
        freightCents = offer.freightCents;
        packExtractG = offer.packG * perG;
        leastPacks = offer.leastPacks;
        packG = offer.packG;
        shelfDays = offer.shelfDays;
      }
    }
    return {
      open,
      arrived,
      centsPerExtractG: best === Infinity ? 0 : best,
      freightCents,
      packExtractG,
      leastPacks,
      packG,
      shelfDays,
    };
  });
}

/** True when a line can be met wholly from outside on a day: by its own material, or by a full substitute. */
export function canBuy(problem: Problem, markets: readonly Market[], line: Line, day: number): boolean {
  const open = (material: number) => (markets[material] as Market).open[day - problem.asOfDay] === 1;
  return open(line.material) || line.substitutes.some((one) => one.mostShare >= 1 && open(one.material));
}

/** Whether home-grown grain can give a material: the farm makes it, holds some, or has a raw lot of it. */
export function isHomeable(problem: Problem, index: number): boolean {
  const material = problem.materials[index];
  if (material?.made) return true;
  if (problem.batches.some((batch) => batch.home && batch.material === index)) return true;
  return material !== undefined && material.malt === null &&
    problem.lots.some((lot) => lot.raw && lot.home && lot.lot.crop === material.crop && lot.totalG > 0);
}

/** Whether a brew could keep its promise if all that can be home-grown were. */
export function promiseInReach(problem: Problem, demand: Demand): boolean {
  let home = 0;
  let total = 0;
  for (const line of demand.lines) {
    total += line.bookMassG;
    if (isHomeable(problem, line.material)) home += line.bookMassG;
  }
  const reachable = total > 0 ? home / total : 0;
  return demand.promise <= reachable + 1e-9;
}
