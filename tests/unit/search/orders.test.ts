import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { microSeason } from "../../../core/generate/micro.ts";
import { type Need, orderPacks } from "../../../core/search/orders.ts";
import { type Offer, type Problem, problemOf } from "../../../core/search/problem.ts";

const season = microSeason(1);
const base = problemOf(season, season.asOf);

/** The micro problem with one offer of its first malt: an arrival every day, so much a pack and so much an order. */
function withOffer(
  packG: number,
  leastPacks: number,
  packCents: number,
  freightCents: number,
  shelfDays: number,
): Problem {
  const first = base.asOfDay;
  const offer: Offer = {
    ...({ id: "offer", index: 0, material: 0, leadDays: 1, extract: 1 }),
    packG,
    leastPacks,
    packCents,
    freightCents,
    shelfDays,
    arrivals: Array.from({ length: 60 }, (_, i) => first + i),
  };
  return {
    ...base,
    materials: base.materials.map((one) => one.index === 0 ? { ...one, offers: [offer] } : one),
  };
}

/** Least cost by trying every way to cut the needs into orders; what rounding leaves over is carried on while it is fresh. */
function cheapest(problem: Problem, needs: readonly Need[]): number {
  const offer = problem.materials[0]!.offers[0]!;
  let best = Infinity;
  for (let cuts = 0; cuts < 1 << needs.length; cuts++) {
    if ((cuts & 1) === 0) continue;
    let cents = 0, spare = 0, until = -Infinity;
    for (let i = 0; i < needs.length;) {
      let j = i + 1;
      while (j < needs.length && (cuts & (1 << j)) === 0) j++;
      const part = needs.slice(i, j);
      const wanted = part.reduce((sum, need) => sum + need.extractG, 0) - (until >= part[0]!.day ? spare : 0);
      if (part.at(-1)!.day > part[0]!.day + offer.shelfDays) {
        cents = Infinity;
        break;
      }
      const packs = Math.max(offer.leastPacks, Math.ceil(Math.max(0, wanted) / offer.packG));
      cents += packs * offer.packCents + offer.freightCents;
      spare = packs * offer.packG - wanted;
      until = part[0]!.day + offer.shelfDays;
      i = j;
    }
    best = Math.min(best, cents);
  }
  return best;
}

describe("orders in whole packs", () => {
  const needs = fc.array(fc.tuple(fc.integer({ min: 1, max: 50 }), fc.integer({ min: 500, max: 90_000 })), {
    minLength: 1,
    maxLength: 6,
  });

  test("never cost more than the best way to cut the needs into orders, and cover them", () => {
    fc.assert(
      fc.property(
        needs,
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 0, max: 9000 }),
        (list, least, freight) => {
          const days = new Map(list.map(([day, extractG]) => [base.asOfDay + day, extractG]));
          const sorted = [...days].map(([day, extractG]) => ({ day, extractG })).sort((a, b) =>
            a.day - b.day
          );
          const problem = withOffer(25_000, least, 4000, freight, 30);
          const { orders, uncovered } = orderPacks(problem, 0, sorted);
          expect(uncovered).toEqual([]);
          expect(orders.reduce((sum, one) => sum + one.costCents, 0)).toBeLessThanOrEqual(
            cheapest(problem, sorted),
          );
          for (const need of sorted) {
            const come = orders.filter((one) => one.arrives <= need.day).reduce(
              (sum, one) => sum + one.packs * 25_000,
              0,
            );
            const asked = sorted.filter((one) => one.day <= need.day).reduce(
              (sum, one) => sum + one.extractG,
              0,
            );
            expect(come).toBeGreaterThanOrEqual(asked);
          }
          expect(orders.every((one) => one.packs >= least)).toBe(true);
        },
      ),
      { numRuns: 150, seed: 7 },
    );
  });

  test("name a need that no order can reach", () => {
    const { orders, uncovered } = orderPacks(withOffer(25_000, 1, 4000, 0, 30), 0, [{
      day: base.asOfDay - 5,
      extractG: 1000,
    }]);
    expect(orders).toEqual([]);
    expect(uncovered).toHaveLength(1);
  });
});
