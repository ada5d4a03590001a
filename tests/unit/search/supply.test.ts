import { expect, test } from "vitest";
import type { RunChoice } from "../../../core/search/candidate.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { gatherSupplies, heldSupplies, type Supply } from "../../../core/search/supply.ts";

/** Two malts: the first gives a quarter of its malt as the second. Round numbers, invented. */
const problem = {
  materials: [
    {
      maltId: "pale",
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
      maltId: "dark",
      malt: { extractCoarseDb: 0.6, maltMoistureWb: 0.5 },
      made: null,
      restDays: 20,
      shelfDays: 50,
    },
  ],
  lots: [
    { index: 0, home: true, lot: { moistureWb: 0.2 } },
    { index: 1, home: false, lot: { moistureWb: 0.2, maltExtractDb: 0.9 } },
  ],
  batches: [{
    material: 0,
    arrivesDay: 0,
    readyDay: 3,
    lastDay: 9,
    massG: 100,
    extractAsIs: 0.7,
    home: true,
    lotIds: [],
  }],
} as unknown as Problem;

const run = (lot: number, stripDay: number) =>
  ({ slot: { malt: 0, stripDay }, lot, lot2: -1, fixed: null }) as unknown as RunChoice;

test("a run's malt comes at the strip, is ready after its rest and good for its shelf life, each malt by its own", () => {
  const supplies: Supply[][] = [[], []];
  const loads = { drawG: [1000, 1000, 0], draw2G: [0, 0, 0] };
  gatherSupplies(
    problem,
    heldSupplies(problem),
    [run(0, 30), run(1, 10), run(0, 5)],
    loads,
    supplies,
  );
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
