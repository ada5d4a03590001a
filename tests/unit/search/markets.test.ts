import { describe, expect, test } from "vitest";
import { canBuy, marketsOf } from "../../../core/search/markets.ts";
import type { Line, Problem } from "../../../core/search/problem.ts";

const offer = (part: object) => ({
  ...{ packG: 25_000, packCents: 4000, leastPacks: 2, freightCents: 500, extract: 0.8, shelfDays: 10 },
  arrivals: [105, 130],
  ...part,
});
/** Three malts from day 100 on: bought on two days, never, and on one. */
const problem = {
  ...{ asOfDay: 100, endDay: 150 },
  materials: [
    { malt: {}, offers: [offer({})] },
    { malt: {}, offers: [] },
    { malt: {}, offers: [offer({ arrivals: [120], shelfDays: 100 })] },
  ],
} as unknown as Problem;

const line = (material: number, substitutes: { material: number; mostShare: number }[] = []) =>
  ({ material, substitutes }) as unknown as Line;

describe("a line can be met from outside", () => {
  const markets = marketsOf(problem);
  const days = (one: Line) =>
    Array.from({ length: 51 }, (_, i) => 100 + i).filter((day) => canBuy(problem, markets, one, day));

  test("from each arrival until its malt is stale", () => {
    const open = days(line(0));
    expect([open[0], open[10], open[11], open.at(-1), open.length]).toEqual([105, 115, 130, 140, 22]);
    expect(days(line(1))).toEqual([]);
  });

  test("by a substitute only if that may stand for all of it", () => {
    expect(days(line(1, [{ material: 2, mostShare: 1 }]))[0]).toBe(120);
    expect(days(line(1, [{ material: 2, mostShare: 0.9 }]))).toEqual([]);
  });
});

test("for a day the order is the last of the cheapest offer that is good then; the day itself where there is none", () => {
  const two = { malt: {}, offers: [offer({}), offer({ arrivals: [120] })] };
  const days = [0, 4, 5, 19, 20, 29, 30, 51];
  const markets = marketsOf({ ...problem, materials: [two, problem.materials[1]] } as unknown as Problem);
  expect(markets.map(({ arrived }) => days.map((d) => arrived[d]))).toEqual([
    [0, 4, 5, 19, 20, 20, 30, 51],
    days,
  ]);
  expect(markets.map(({ lastGood }) => days.map((d) => lastGood[d]))).toEqual([
    [0, 4, 15, 19, 30, 30, 40, 51],
    days,
  ]);
});
