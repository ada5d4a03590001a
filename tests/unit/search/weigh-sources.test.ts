import { describe, expect, test } from "vitest";
import type { RunChoice } from "../../../core/search/candidate.ts";
import { sourcesOf } from "../../../core/search/weigh-sources.ts";
import type { WeighInput } from "../../../core/search/weighing.ts";

/** A gram of grain gives 1.28 g of malt, three quarters of it pale, the rest of a malt with less extract. Invented. */
const problem = {
  batches: [],
  materials: [
    {
      ...{ maltId: "pale", owner: "farm" },
      malt: { extractCoarseDb: 0.8, maltMoistureWb: 0.5, restDays: 7, shelfLifeDays: 100 },
      made: {
        ...{ screeningLoss: 0, steepLossDm: 0, respirationLossDm: 0, rootletLossDm: 0.2 },
        alsoGives: [{ maltId: "dark", share: 0.25 }],
      },
    },
    {
      ...{ maltId: "dark", owner: "farm" },
      malt: { extractCoarseDb: 0.6, maltMoistureWb: 0.5, restDays: 20, shelfLifeDays: 50 },
      made: null,
    },
  ],
  lots: [
    { index: 0, home: true, lot: { owner: "farm", moistureWb: 0.2 } },
    { index: 1, home: false, lot: { owner: "farm", moistureWb: 0.2, maltExtractDb: 0.9 } },
    { index: 2, home: true, lot: { owner: "farm", moistureWb: 0.2, maltExtractDb: 0.9 } },
  ],
};

/** The pale malt of a run that draws so much of its first lot and of its second; the load is given when `column` is -1. */
function paleOf({ lot2 = -1, drawG = 1e6, draw2G = 0, column = 4, mixed = false }) {
  const run = { slot: { malt: 0, stripDay: 30 }, lot: 0, lot2, fixed: null } as unknown as RunChoice;
  const evaluation = {
    loads: { drawG: [drawG], draw2G: [draw2G] },
    maltG: () => 1.28 * (drawG + draw2G),
  };
  const input = { problem, evaluation, runs: [run], ...(mixed ? { mixed: new Set([run]) } : {}) };
  return sourcesOf(input as unknown as WeighInput, [column])[0]!;
}

describe("a run of one lot", () => {
  test("gives its malt in the column, or all of it where the load is given", () => {
    const free = paleOf({});
    expect([free.fixedT, free.column]).toEqual([0, 4]);
    expect(free.perColumn).toBeCloseTo(1.28 * 0.75 * 0.4, 12);
    const given = paleOf({ column: -1 });
    expect(given.fixedT).toBeCloseTo(1.28 * 0.75 * 0.4, 12);
    expect(given.perColumn).toBe(0);
    expect([free.ready, free.last]).toEqual([37, 130]);
  });

  test("is home-grown as its lot is, unless it is a part of a run of mixed origin", () => {
    expect([paleOf({}).home, paleOf({ mixed: true }).home]).toEqual([true, false]);
  });
});

describe("a run of two lots", () => {
  test("gives the first lot's malt in any case and the second's in the column, each with its own extract", () => {
    const { fixedT, perColumn, perG } = paleOf({ lot2: 1, drawG: 500_000, draw2G: 1_500_000 });
    expect(fixedT).toBeCloseTo(0.5 * 1.28 * 0.75 * 0.8 * 0.5, 12);
    expect(perColumn).toBeCloseTo(1.28 * 0.75 * 0.9 * 0.5, 12);
    expect(perG).toBeCloseTo((0.25 * 0.8 + 0.75 * 0.9) * 0.5, 12);
  });

  test("of which the load is given has the extract of its blend", () => {
    const { fixedT } = paleOf({ lot2: 1, drawG: 500_000, draw2G: 1_500_000, column: -1 });
    expect(fixedT).toBeCloseTo(2 * 1.28 * 0.75 * 0.875 * 0.5, 12);
  });

  test("is home-grown only if both lots are, and knows the share of each", () => {
    const pair = (lot2: number) => paleOf({ lot2, drawG: 500_000, draw2G: 1_500_000 });
    expect([pair(1).home, pair(2).home]).toEqual([false, true]);
    expect([...pair(1).share!]).toEqual([[0, 0.25], [1, 0.75]]);
  });
});
