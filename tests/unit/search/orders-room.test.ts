/** Orders of one malt in the places that all else leaves, against a store that is looked at day by day. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Need, orderPacks, type PlannedOrder } from "../../../core/search/orders.ts";
import type { Offer, Problem } from "../../../core/search/problem.ts";
import { hasRoom } from "../../../core/search/store-room.ts";

const DAYS = 30;
const PLACE_G = 10;

const problemWith = (offer: Offer) =>
  ({ materials: [{ index: 0, malt: {}, offers: [offer] }] }) as unknown as Problem;

/** Places by day that the orders take, the oldest used first; a bag that is begun takes its place until it is empty. */
function placesOf(orders: readonly PlannedOrder[], needs: readonly Need[], { packG }: Offer): number[] {
  const bags = orders.map((one) => ({ arrives: one.arrives, left: one.packs * packG }));
  return Array.from({ length: DAYS }, (_, day) => {
    let open = needs.reduce((sum, need) => need.day === day ? sum + need.extractG : sum, 0);
    for (const bag of bags) {
      if (bag.arrives > day) continue;
      const taken = Math.min(open, bag.left);
      bag.left -= taken;
      open -= taken;
    }
    expect(open).toBe(0);
    return bags.reduce((sum, bag) => bag.arrives <= day ? sum + Math.ceil(bag.left / PLACE_G) : sum, 0);
  });
}

const cases = fc.record({
  needs: fc.uniqueArray(
    fc.record({ day: fc.integer({ min: 1, max: DAYS - 1 }), extractG: fc.integer({ min: 1, max: 40 }) }),
    { selector: (need) => need.day, minLength: 1, maxLength: 6 },
  ).map((list) => list.sort((a, b) => a.day - b.day)),
  free: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: DAYS, maxLength: DAYS }),
  packG: fc.constantFrom(5, 10, 15),
  leastPacks: fc.integer({ min: 1, max: 3 }),
  freightCents: fc.integer({ min: 0, max: 60 }),
}).map(({ needs, free, ...part }) => ({
  needs,
  room: { from: 0, free: Int32Array.from(free), placeG: PLACE_G },
  // What keeps longer than the year lasts: nothing goes bad.
  offer: {
    ...{ id: "offer", index: 0, material: 0, extract: 1, leadDays: 1, packCents: 10, shelfDays: 99 },
    ...{ arrivals: Array.from({ length: DAYS }, (_, day) => day), ...part },
  } as Offer,
}));

const centsOf = (orders: readonly PlannedOrder[]) => orders.reduce((sum, one) => sum + one.costCents, 0);

describe("orders in the room that is left", () => {
  test("never take more places than are free, and meet all needs or none", () => {
    let met = 0, none = 0;
    fc.assert(
      fc.property(cases, ({ needs, room, offer }) => {
        const { orders, uncovered } = orderPacks(problemWith(offer), 0, needs, { room });
        if (orders.length === 0) {
          none++;
          expect(uncovered).toEqual(needs);
          return;
        }
        met++;
        expect(uncovered).toEqual([]);
        placesOf(orders, needs, offer).forEach((places, day) => {
          if (places > 0) expect(places).toBeLessThanOrEqual(room.free[day]!);
        });
      }),
      { numRuns: 3000, seed: 71 },
    );
    expect(Math.min(met, none)).toBeGreaterThan(200);
  });

  test("cost what they cost without a limit where those fit, and never less", () => {
    let same = 0;
    fc.assert(
      fc.property(cases, ({ needs, room, offer }) => {
        const free = orderPacks(problemWith(offer), 0, needs).orders;
        const within = orderPacks(problemWith(offer), 0, needs, { room }).orders;
        const fits = placesOf(free, needs, offer).every((places, day) =>
          places === 0 || places <= room.free[day]!
        );
        if (within.length > 0) expect(centsOf(within)).toBeGreaterThanOrEqual(centsOf(free));
        if (!fits) return;
        same++;
        expect(centsOf(within)).toBe(centsOf(free));
      }),
      { numRuns: 3000, seed: 72 },
    );
    expect(same).toBeGreaterThan(100);
  });
});

describe("what an order leaves", () => {
  const part = {
    id: "offer",
    index: 0,
    material: 0,
    extract: 1,
    leadDays: 1,
    packCents: 10,
    freightCents: 1,
  };
  const packsIn = (more: Partial<Offer>, needs: readonly Need[], free: (day: number) => number) => {
    const offer = { ...part, packG: 10, ...more } as Offer;
    const room = { from: 0, free: Int32Array.from({ length: DAYS }, (_, day) => free(day)), placeG: PLACE_G };
    return orderPacks(problemWith(offer), 0, needs, { room }).orders.map((one) => one.packs);
  };

  test("is looked for a place until the end when it goes bad", () => {
    const offer = { leastPacks: 2, shelfDays: 3, arrivals: [5, 20] };
    const needs = [{ day: 5, extractG: 8 }, { day: 20, extractG: 15 }];
    expect(packsIn(offer, needs, () => 2)).toEqual([2, 2]);
    // Of the first order twelve grams stay, in two places.
    expect(packsIn(offer, needs, (day) => day === 29 ? 1 : 2)).toEqual([]);
  });

  test("keeps its place beside the next one until that is needed", () => {
    const offer = { leastPacks: 1, shelfDays: 99, arrivals: [0, 10] };
    const needs = [{ day: 1, extractG: 8 }, { day: 12, extractG: 9 }];
    expect(packsIn(offer, needs, (day) => day < 10 || day > 11 ? 1 : 2)).toEqual([1, 1]);
    expect(packsIn(offer, needs, () => 1)).toEqual([]);
  });
});

test("room is asked for on every day, for what lies in two kinds of bags", () => {
  const room = { from: 100, free: Int32Array.from([3, 2, 3, 3]), placeG: PLACE_G };
  expect(hasRoom(room, 100, 101, 30)).toBe(true);
  expect(hasRoom(room, 100, 102, 21)).toBe(false);
  expect(hasRoom(room, 102, 200, 21)).toBe(true);
  expect(hasRoom(room, 102, 200, 21, 1)).toBe(false);
  expect(hasRoom(room, 0, 100, 999)).toBe(true);
  expect(hasRoom(room, 0, 200, 0)).toBe(true);
});
