import { lastArrival } from "./orders.ts";
import type { Demand, Line, Offer, Problem } from "./problem.ts";

/** When a material can be had from outside, and about what a gram of its extract costs there. */
export interface Market {
  /** By day from as-of: 1 when an order made after as-of can have arrived and still be fresh. */
  open: Uint8Array;
  /** By day from as-of: when the order that is placed for it arrives, and the last day on which its malt is good; the day itself where none can. */
  arrived: Int16Array;
  lastGood: Int16Array;
  centsPerExtractG: number;
  freightCents: number;
  packExtractG: number;
  leastPacks: number;
  packG: number;
}

/** Offers of one material, the cheapest by extract first. */
export function byPrice(offers: readonly Offer[]): Offer[] {
  const cents = (one: Offer) => one.packCents / (one.packG * one.extract);
  return [...offers].sort((a, b) => cents(a) - cents(b));
}

/** The markets of all materials. The cheapest offer by extract stands for its material's price. */
export function marketsOf(problem: Problem): Market[] {
  const length = problem.endDay - problem.asOfDay + 2;
  return problem.materials.map((material) => {
    const open = new Uint8Array(length);
    const offers = byPrice(material.offers);
    const arrived = new Int16Array(length), lastGood = new Int16Array(length);
    for (let d = 0; d < length; d++) {
      const day = problem.asOfDay + d;
      const placed = offers.find((offer) => lastArrival(offer, day) !== null);
      const arrives = placed ? (lastArrival(placed, day) as number) - problem.asOfDay : d;
      arrived[d] = Math.max(0, arrives);
      lastGood[d] = placed ? Math.min(length, arrives + placed.shelfDays) : d;
    }
    let best = Infinity;
    let freightCents = 0;
    let packExtractG = 1;
    let leastPacks = 1;
    let packG = 1;
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
      }
    }
    return {
      open,
      arrived,
      lastGood,
      centsPerExtractG: best === Infinity ? 0 : best,
      freightCents,
      packExtractG,
      leastPacks,
      packG,
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
