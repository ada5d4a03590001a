import { G_PER_TONNE } from "../units.ts";
import { needOf } from "./lines.ts";
import type { Offer } from "./problem.ts";
import { type Source, usefulArrivals } from "./weigh-sources.ts";
import type { Weighing } from "./weighing.ts";

/** An order of malt whose arrival is settled, and its packs too unless they are left open. */
export interface StandingOrder {
  readonly offer: number;
  readonly day: number;
  readonly packs: number | null;
}

/**
 * Purchases as sources: the orders that stand, if some do; else packs in whole numbers with freight for a small season, free amounts at what
 * they cost on the whole otherwise.
 */
export function addPurchases(of: Weighing): void {
  const { problem, evaluator, model } = of;
  if (of.orders) {
    for (const order of of.orders) addStanding(of, order);
    return;
  }
  const days = new Map<number, number[]>();
  // No order ever brings more than all lines together take and all floors hold.
  const lines = problem.demands.flatMap((demand) => demand.lines);
  const neededG = lines.reduce((sum, line) => sum + needOf(problem, line), 0);
  const neededT = (neededG + problem.materials.reduce((sum, material) => sum + material.floorG, 0)) /
    G_PER_TONNE;
  for (const demand of of.order) {
    for (const line of problem.demands[demand]?.lines ?? []) {
      for (const material of [line.material, ...line.substitutes.map((one) => one.material)]) {
        if (!problem.materials[material]?.malt) continue;
        days.set(material, [...(days.get(material) ?? []), ...of.daysOf(demand)]);
      }
    }
  }
  for (const [material, uses] of days) {
    const offers = problem.materials[material]?.offers ?? [];
    for (const offer of offers) {
      for (const arrival of usefulArrivals(offer.arrivals, uses, of.whole)) {
        const packT = offer.packG / G_PER_TONNE;
        let column: number;
        if (of.whole) {
          const most = Math.max(offer.leastPacks, Math.ceil(neededT / (packT * offer.extract)));
          column = model.column(offer.packCents / 100, 0, most, true);
          const placed = model.column(offer.freightCents / 100, 0, 1, true);
          model.row(-Infinity, 0, [[column, 1], [placed, -most]]);
          model.row(0, Infinity, [[column, 1], [placed, -offer.leastPacks]]);
        } else {
          const market = evaluator.markets[material];
          column = model.column((market?.centsPerExtractG ?? 0) * G_PER_TONNE / 100, 0, neededT);
        }
        of.sources.push(bought(offer, arrival, column, of.whole ? packT * offer.extract : 1, 0));
      }
    }
  }
}

/** An order that stands: its packs, or a column of packs from the least on at the price of a pack. */
function addStanding(
  { problem, model, sources }: Weighing,
  { offer: index, day, packs }: StandingOrder,
): void {
  const offer = problem.offers[index] as Offer;
  const packT = offer.packG / G_PER_TONNE * offer.extract;
  if (packs !== null) sources.push(bought(offer, day, -1, 0, packs * packT));
  else {
    const column = model.column(offer.packCents / 100, offer.leastPacks, MOST_PACKS);
    sources.push(bought(offer, day, column, packT, 0));
  }
}

/** More packs than any order has. */
const MOST_PACKS = 1e4;

function bought(offer: Offer, day: number, column: number, perColumn: number, fixedT: number): Source {
  return {
    material: offer.material,
    arrives: day,
    ready: day,
    last: day + offer.shelfDays,
    fixedT,
    column,
    perColumn,
    perG: offer.extract,
    home: false,
    share: null,
    batchId: null,
    run: -1,
    offer: offer.index,
  };
}
