import { describe, expect, test } from "vitest";
import { loadCents, makeLoads, type Outgoing } from "../../../core/search/feed-loads.ts";
import type { Problem } from "../../../core/search/problem.ts";

/** One pick-up on every tenth day, of one to two tonnes, that takes the first lot of two; 10 cents a kilogram. Invented. */
const problem = {
  pickups: [{
    ...{
      index: 0,
      leastG: 1_000_000,
      greatestG: 2_000_000,
      loads: 2,
      perTonneCents: 10_000,
      haulageCents: 3000,
    },
    days: [10, 20, 30, 40],
    takes: [true, false],
  }],
} as unknown as Problem;

const grain = (part: Partial<Outgoing>): Outgoing => ({
  ...{ lot: 0, store: 0, massG: 1_500_000, from: 0, by: 100, must: true },
  ...part,
});
const made = (...outgoing: Outgoing[]) => {
  const { loads, refused } = makeLoads(problem, outgoing);
  return [loads.map((load) => [load.day, load.items.map((item) => item.massG)]), refused.length];
};

describe("feed is fetched", () => {
  test("on the last day of the pick-up by which it must be gone, once it is all there", () => {
    expect(made(grain({ by: 35 }))).toEqual([[[30, [1_500_000]]], 0]);
    expect(made(grain({ from: 20, by: 29 }))).toEqual([[[20, [1_500_000]]], 0]);
    expect(made(grain({ from: 21, by: 29 }))).toEqual([[], 1]);
  });

  test("in whole loads, spare grain filling them up, only of grain the buyer takes", () => {
    expect(made(grain({ massG: 999_999 }))).toEqual([[], 1]);
    const spare = grain({ store: 1, massG: 900_000, must: false });
    expect(made(grain({ by: 20 }), spare)).toEqual([[[20, [1_500_000, 500_000]]], 1]);
    expect(made(grain({ by: 20 }), { ...spare, from: 21 })).toEqual([[[20, [1_500_000]]], 1]);
    expect(made(grain({ lot: 1 }))).toEqual([[], 1]);
    expect(made(grain({ by: 20 }), { ...spare, lot: 1 })).toEqual([[[20, [1_500_000]]], 1]);
  });

  test("no more often than is offered", () => {
    expect(made(grain({ massG: 6_000_000 }))).toEqual([[[40, [2_000_000]], [40, [2_000_000]]], 1]);
  });
});

test("a load brings its price less haulage", () => {
  expect(loadCents(problem, { pickup: 0, day: 10, items: [{ lot: 0, store: 0, massG: 1_500_000 }] })).toBe(
    12_000,
  );
});
