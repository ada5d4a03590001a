import type { Demand, Offer, Problem } from "../search/problem.ts";
import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import { goodExtract, type Source } from "./source.ts";

/** An offer's orders that arrive between two points of its material's grid, as a count of orders and the extract they bring. */
export interface OrderColumns {
  readonly offer: number;
  readonly orders: number;
  readonly extract: number;
}

/**
 * Purchases: packs by the gram, freight by the order, the least packs of an order kept. Arrivals are gathered on the days on
 * which malt of a run can be ready, or else on days a step apart.
 */
export function addOrders(
  model: LinearModel,
  problem: Problem,
  made: readonly Source[],
  stepDays: number,
): Source[] {
  const sources: Source[] = [];
  for (const material of problem.materials) {
    if (material.offers.length === 0) continue;
    const grid = gridOf(problem, material.index, made, stepDays);
    for (const offer of material.offers) {
      const perT = material.malt ? offer.extract : goodExtract(problem, material.index, offer.extract);
      grid.forEach((from, i) => {
        const to = grid[i + 1] ?? problem.endDay + 1;
        const arrivals = offer.arrivals.filter((day) => day >= from && day < to);
        const [day] = arrivals;
        if (day === undefined) return;
        const leastT = offer.leastPacks * offer.packG / G_PER_TONNE * perT;
        const useT = usefulT(problem, offer, perT, day, arrivals.at(-1) as number);
        if (useT <= 0) return;
        // An order of more than can still be used is as good as one of so much.
        const mostT = Math.max(leastT, useT);
        const extract = model.column(
          offer.packCents / 100 / (offer.packG / G_PER_TONNE * perT),
          0,
          mostT * arrivals.length,
        );
        const orders = model.column(offer.freightCents / 100, 0, arrivals.length, true);
        model.row(-Infinity, 0, [[extract, 1], [orders, -mostT]]);
        model.row(0, Infinity, [[extract, 1], [orders, -leastT]]);
        sources.push({
          material: material.index,
          day,
          lastDay: Infinity,
          storedDay: arrivals.at(-1) as number,
          terms: [{ column: extract, gives: 1, surely: 1, home: false, lot: -1 }],
          fixedHomeT: 0,
          fixedOtherT: 0,
          whole: orders,
          mostT,
          offer: offer.index,
          share: null,
          leastPerT: perT,
          greatestPerT: perT,
        });
      });
    }
  }
  return sources;
}

/** Days at which purchases are gathered. */
function gridOf(problem: Problem, material: number, made: readonly Source[], stepDays: number): number[] {
  const days = new Set(made.filter((source) => source.material === material).map((source) => source.day));
  const asOf = problem.asOfDay;
  if (days.size < 3) { for (let day = asOf; day <= problem.endDay; day += stepDays) days.add(day); }
  const grid = [...days].map((day) => Math.max(day, asOf)).filter((day) => day <= problem.endDay);
  return [...new Set([asOf, ...grid])].sort((a, b) => a - b);
}

/** The most extract that demands still to come, while it is fresh, and the floor can make use of. */
function usefulT(problem: Problem, offer: Offer, perT: number, first: number, last: number): number {
  const material = problem.materials[offer.material];
  let extractG = (material?.floorG ?? 0) * perT;
  for (const demand of problem.demands) {
    const days = [...demand.days];
    if (!days.some((day) => day >= first && day <= last + offer.shelfDays)) continue;
    extractG += mostOf(demand, offer.material, material?.malt != null);
  }
  return extractG / G_PER_TONNE;
}

/** The most extract (of raw grain, weight) of a material that a demand can take. */
export function mostOf(demand: Demand, material: number, malt: boolean): number {
  let most = 0;
  for (const line of demand.lines) {
    const needG = malt ? line.extractG : line.bookMassG;
    if (line.material === material) most += needG;
    else {
      const as = line.substitutes.find((one) => one.material === material);
      if (as) most += as.mostShare * needG;
    }
  }
  return most * 1.01;
}
