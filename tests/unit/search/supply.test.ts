import { describe, expect, test } from "vitest";
import type { RunChoice } from "../../../core/search/candidate.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { blendOf, heldShares, heldSupplies } from "../../../core/search/supply.ts";
import { SupplyBoard } from "../../../core/search/supply-board.ts";

/** Two malts: the first gives a quarter of its malt as the second. Round numbers, invented. */
const problem = {
  materials: [
    {
      ...{ maltId: "pale", owner: "farm" },
      malt: { extractCoarseDb: 0.8, maltMoistureWb: 0.5 },
      made: {
        screeningLoss: 0,
        steepLossDm: 0,
        respirationLossDm: 0,
        rootletLossDm: 0.2,
        alsoGives: [{ maltId: "dark", share: 0.25 }],
      },
      restDays: 7,
      shelfDays: 100,
    },
    {
      ...{ maltId: "dark", owner: "farm" },
      malt: { extractCoarseDb: 0.6, maltMoistureWb: 0.5 },
      made: null,
      restDays: 20,
      shelfDays: 50,
    },
  ],
  lots: [
    { index: 0, home: true, lot: { owner: "farm", moistureWb: 0.2 } },
    { index: 1, home: false, lot: { owner: "farm", moistureWb: 0.2, maltExtractDb: 0.9 } },
  ],
  batches: [{
    material: 0,
    arrivesDay: 0,
    readyDay: 3,
    lastDay: 9,
    massG: 100,
    extractAsIs: 0.7,
    home: true,
    lots: [{ lotId: "meadow", share: 1 }],
  }],
  season: { lots: [{ id: "hill" }, { id: "meadow" }] },
} as unknown as Problem;

const run = (lot: number, stripDay: number) =>
  ({ slot: { malt: 0, stripDay }, lot, lot2: -1, fixed: null }) as unknown as RunChoice;

test("a run's malt comes at the strip, is ready after its rest and good for its shelf life, each malt by its own", () => {
  const loads = { drawG: [1000, 1000, 0], draw2G: [0, 0, 0] };
  const supplies = new SupplyBoard(problem).gather([run(0, 30), run(1, 10), run(0, 5)], loads);
  // 1,000 g at 20 % hold 800 g of dry matter, of which 640 g stay: 1,280 g of malt at 50 %.
  const [pale, dark] = supplies.map((list) =>
    list.map(({ arrives, ready, last, extractG, home }) => [arrives, ready, last, Math.round(extractG), home])
  );
  expect(pale).toEqual([
    [0, 3, 9, 70, true],
    [10, 17, 110, 432, false],
    [30, 37, 130, 384, true],
  ]);
  expect(dark).toEqual([[10, 30, 60, 144, false], [30, 50, 80, 96, true]]);
});

describe("malt of several lots", () => {
  const draw = (lot: number, massG: number) => ({ lot, massG });

  test("is home-grown only when every lot is", () => {
    const home = (...draws: [number, number][]) =>
      blendOf(problem, draws.map(([lot, massG]) => draw(lot, massG)), 0.8).home;
    expect([home([0, 300]), home([0, 300], [1, 1]), home([1, 1], [0, 300])]).toEqual([true, false, false]);
    expect(home([0, 300], [1, 0], [-1, 0])).toBe(true);
  });

  test("has extract and shares by the weight drawn, a lot without a figure the book's extract", () => {
    const { extractDb, share } = blendOf(problem, [draw(0, 200), draw(1, 100), draw(0, 100)], 0.8);
    expect(extractDb).toBeCloseTo((3 * 0.8 + 0.9) / 4, 12);
    expect([...share]).toEqual([[0, 0.75], [1, 0.25]]);
    expect(blendOf(problem, [], 0.8).extractDb).toBe(0.8);
  });

  test("that the book holds is taken to be of equal parts", () => {
    const lots = [{ lotId: "meadow", share: 0.5 }, { lotId: "hill", share: 0.25 }, {
      lotId: "meadow",
      share: 0.25,
    }];
    expect([...heldShares(problem, { lots })!]).toEqual([[1, 0.75], [0, 0.25]]);
    expect(heldShares(problem, { lots: [] })).toBeNull();
    expect(heldSupplies(problem)[0]!.map(({ share }) => [...share!])).toEqual([[[1, 1]]]);
  });

  test("of a run stands in its supply", () => {
    const two = { ...run(0, 30), lot2: 1 };
    const loads = { drawG: [750], draw2G: [250] };
    const supplies = new SupplyBoard({ ...problem, batches: [] } as Problem).gather([two], loads);
    const [pale] = supplies[0]!;
    expect([pale!.home, [...pale!.share!]]).toEqual([false, [[0, 0.75], [1, 0.25]]]);
    expect(pale!.perG).toBeCloseTo(0.825 / 2, 12);
  });
});
