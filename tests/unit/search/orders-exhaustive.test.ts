import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Need, orderPacks } from "../../../core/search/orders.ts";
import type { Offer, Problem } from "../../../core/search/problem.ts";

const OFFER = { id: "offer", index: 0, material: 0, extract: 1, leadDays: 1 };

const problemWith = (offer: Offer) =>
  ({ materials: [{ index: 0, malt: {}, offers: [offer] }] }) as unknown as Problem;

/** Whether packs that come on these days meet the needs, the oldest fresh grain used first. */
function meets({ arrivals, packG, shelfDays }: Offer, packs: readonly number[], needs: readonly Need[]) {
  const left = packs.map((one) => one * packG);
  return needs.every(({ day, extractG }) => {
    let open = extractG;
    arrivals.forEach((arrives, i) => {
      if (arrives > day || arrives + shelfDays < day) return;
      const used = Math.min(open, left[i]!);
      left[i]! -= used;
      open -= used;
    });
    return open <= 0;
  });
}

/** Least cost over every number of packs on every arrival day. */
function cheapest(offer: Offer, needs: readonly Need[]): number {
  const total = needs.reduce((sum, need) => sum + need.extractG, 0);
  const most = Math.max(offer.leastPacks, Math.ceil(total / offer.packG));
  const packs = offer.arrivals.map(() => 0);
  let best = Infinity;
  const walk = (at: number, cents: number) => {
    if (cents >= best) return;
    if (at < packs.length) {
      for (let n = 0; n <= most; n = n === 0 ? offer.leastPacks : n + 1) {
        packs[at] = n;
        walk(at + 1, cents + (n > 0 ? n * offer.packCents + offer.freightCents : 0));
      }
      packs[at] = 0;
    } else if (meets(offer, packs, needs)) best = cents;
  };
  walk(0, 0);
  return best;
}

/** Up to four needs and four arrival days of an offer, with the rest of the offer as `more` says. */
const casesOf = (more: fc.Arbitrary<Pick<Offer, "packG" | "shelfDays" | "leastPacks">>, mostG: number) =>
  fc.record({
    needs: fc.uniqueArray(
      fc.record({ day: fc.integer({ min: 2, max: 12 }), extractG: fc.integer({ min: 1, max: mostG }) }),
      { selector: (need) => need.day, minLength: 1, maxLength: 4 },
    ),
    arrivals: fc.uniqueArray(fc.integer({ min: 0, max: 12 }), { minLength: 1, maxLength: 4 }),
    packCents: fc.integer({ min: 1, max: 30 }),
    freightCents: fc.integer({ min: 0, max: 60 }),
    more,
  }).map(({ needs, arrivals, more, ...offer }) => ({
    needs: needs.sort((a, b) => a.day - b.day),
    offer: { ...OFFER, ...offer, ...more, arrivals: arrivals.sort((a, b) => a - b) },
  }));

const reachable = (offer: Offer, { day }: Need) =>
  offer.arrivals.some((arrives) => arrives <= day && day <= arrives + offer.shelfDays);

function holdsFor({ needs, offer }: { needs: Need[]; offer: Offer }): void {
  const { orders, uncovered } = orderPacks(problemWith(offer), 0, needs);
  const met = needs.filter((need) => reachable(offer, need));
  expect(uncovered).toEqual(needs.filter((need) => !reachable(offer, need)));
  const packs = offer.arrivals.map((day) =>
    orders.filter((one) => one.arrives === day).reduce((sum, one) => sum + one.packs, 0)
  );
  for (const order of orders) {
    expect(order.packs).toBeGreaterThanOrEqual(offer.leastPacks);
    expect(order.costCents).toBe(order.packs * offer.packCents + offer.freightCents);
  }
  expect(meets(offer, packs, met)).toBe(true);
  expect(orders.reduce((sum, one) => sum + one.costCents, 0)).toBe(cheapest(offer, met));
}

describe("orders of one offer cost the least that any choice of packs and days costs", () => {
  test("in packs that leave something over, which keeps", () => {
    const more = fc.record({
      packG: fc.constant(10),
      shelfDays: fc.integer({ min: 12, max: 90 }),
      leastPacks: fc.integer({ min: 1, max: 3 }),
    });
    fc.assert(fc.property(casesOf(more, 25), holdsFor), { numRuns: 400, seed: 61 });
  });

  test("when malt goes stale, in packs that leave nothing over", () => {
    const more = fc.record({
      packG: fc.constant(1),
      shelfDays: fc.integer({ min: 0, max: 8 }),
      leastPacks: fc.constant(1),
    });
    fc.assert(fc.property(casesOf(more, 3), holdsFor), { numRuns: 400, seed: 62 });
  });

  test("and cover no more than the days of need allowed in one, what is left over going to the next", () => {
    const needs = [0, 4, 8, 12].map((day) => ({ day, extractG: 15 }));
    const costs = { leastPacks: 1, packCents: 1, freightCents: 99 };
    const offer = { ...OFFER, ...costs, packG: 10, arrivals: [0, 4, 8, 12], shelfDays: 90 };
    const packsOf = (span: number) =>
      orderPacks(problemWith(offer), 0, needs, { spanDays: span }).orders.map((one) => one.packs);
    expect(packsOf(Infinity)).toEqual([6]);
    expect(packsOf(8)).toEqual([5, 1]);
    expect(packsOf(7)).toEqual([3, 3]);
    expect(packsOf(0)).toEqual([2, 1, 2, 1]);
  });
});
