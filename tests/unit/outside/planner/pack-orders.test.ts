import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Need, orderPacks } from "../../../../core/search/orders.ts";
import type { Offer, Problem } from "../../../../core/search/problem.ts";

/**
 * Least cost by exact dynamic programming over the stock in store, in whole units: on each arrival any number of packs, on each
 * need the stock goes down. The farm's own cost structure (packs, least orders, freight, several offers), malt that keeps.
 */
function leastCost(offers: readonly Offer[], needs: readonly Need[]): number {
  const total = needs.reduce((sum, need) => sum + need.extractG, 0);
  const events = [
    ...offers.flatMap((offer) => offer.arrivals.map((day) => ({ day, offer, extractG: 0 }))),
    ...needs.map((need) => ({ ...need, offer: null })),
  ].sort((a, b) => a.day - b.day || Number(a.offer === null) - Number(b.offer === null));
  let least = new Map([[0, 0]]);
  for (const { offer, extractG } of events) {
    const next = new Map<number, number>();
    const put = (stock: number, cents: number) => {
      const kept = Math.min(stock, total);
      if (cents < (next.get(kept) ?? Infinity)) next.set(kept, cents);
    };
    for (const [stock, cents] of least) {
      if (offer === null) {
        if (stock >= extractG) put(stock - extractG, cents);
        continue;
      }
      put(stock, cents);
      const most = Math.max(offer.leastPacks, Math.ceil(total / offer.packG));
      for (let packs = offer.leastPacks; packs <= most; packs++) {
        put(stock + packs * offer.packG, cents + packs * offer.packCents + offer.freightCents);
      }
    }
    least = next;
  }
  return Math.min(...least.values());
}

const offerOf = fc.record({
  packG: fc.integer({ min: 1, max: 12 }),
  leastPacks: fc.integer({ min: 1, max: 4 }),
  packCents: fc.integer({ min: 1, max: 60 }),
  freightCents: fc.integer({ min: 0, max: 80 }),
  arrivals: fc.uniqueArray(fc.integer({ min: 0, max: 12 }), { minLength: 1, maxLength: 5 }),
});

const needsOf = fc.uniqueArray(
  fc.record({ day: fc.integer({ min: 6, max: 18 }), extractG: fc.integer({ min: 1, max: 30 }) }),
  { selector: (need) => need.day, minLength: 1, maxLength: 5 },
);

/** Cost of the planner's orders, and the least there is, for many cases of so many offers. */
function compared(offerCount: number, numRuns: number, seed: number): { is: number; least: number }[] {
  const cases: { is: number; least: number }[] = [];
  fc.assert(
    fc.property(
      fc.array(offerOf, { minLength: offerCount, maxLength: offerCount }),
      needsOf,
      (list, asked) => {
        const offers = list.map((one, index): Offer => ({
          ...one,
          id: `offer-${index}`,
          index,
          material: 0,
          extract: 1,
          leadDays: 0,
          shelfDays: 1000,
          arrivals: [...one.arrivals].sort((a, b) => a - b),
        }));
        const first = Math.min(...offers.map((offer) => offer.arrivals[0]!));
        const needs = asked.filter((need) => need.day >= first).sort((a, b) => a.day - b.day);
        fc.pre(needs.length > 0);
        const problem = { materials: [{ index: 0, malt: {}, offers }] } as unknown as Problem;
        const { orders } = orderPacks(problem, 0, needs);
        const is = orders.reduce((sum, order) => sum + order.costCents, 0);
        cases.push({ is, least: leastCost(offers, needs) });
      },
    ),
    { numRuns, seed },
  );
  return cases;
}

describe("orders of whole packs against exact dynamic programming over the stock", () => {
  test("of one offer cost the least", () => {
    for (const { is, least } of compared(1, 800, 81)) expect(is).toBe(least);
  });

  // The planner lets one order cover each stretch of needs. Where packs of two offers together would meet a stretch, it may
  // pay more: seen in 0.6 % of 3,000 cases, by 9 % at most. A small season's packs are counted in the allocation model instead.
  test("of two offers never cost less than the least, and hardly ever more", () => {
    const cases = compared(2, 800, 82);
    for (const { is, least } of cases) {
      expect(is).toBeGreaterThanOrEqual(least);
      expect(is).toBeLessThanOrEqual(1.2 * least);
    }
    expect(cases.filter(({ is, least }) => is > least).length).toBeLessThanOrEqual(0.02 * cases.length);
  });
});
