/** From which malt a sale is met when part of it is to be bought. Round numbers, invented. */
import { expect, test } from "vitest";
import type { CellarBatch } from "../../../core/search/cellar.ts";
import { fillBrews } from "../../../core/search/fill-brews.ts";
import type { Settling } from "../../../core/search/settling.ts";

/**
 * A sale of 100 kg on day 10 that the weights meet with so many grams of home-grown malt and the rest with bought, and a brew on day 20
 * that counts on all that this leaves of 100 kg.
 */
test.each([[0, 7], [20_000, 7], [20_000, -1]])(
  "a sale with %i g of home-grown malt leaves the rest to the brew that counts on it (run %i; -1, as counted)",
  (homeG, run) => {
    const line = { lineId: "malt", material: 0, substitutes: [] };
    const common = { promise: 0, requires: [], volumeL: 900, tankDays: 9, booked: false };
    const settling = {
      problem: {
        materials: [{ index: 0, malt: {} }],
        demands: [
          {
            ...common,
            ...{ index: 0, id: "sale", kind: "sale" },
            lines: [{ ...line, extractG: 50_000, bookMassG: 100_000 }],
          },
          {
            ...common,
            ...{ index: 1, id: "ale", kind: "brew", promise: 1 },
            lines: [{ ...line, extractG: 50_000 - homeG / 2, bookMassG: 100_000 - homeG }],
          },
        ],
        lots: [],
        stores: [],
        season: { contracts: [] },
      },
      evaluator: { table: { first: [0, 1] } },
      candidate: { day: Int32Array.of(10, 20) },
      weights: {
        status: Uint8Array.of(1, 2),
        uses: [
          {
            line: 0,
            extractG: homeG / 2,
            source: { material: 0, home: true, batchId: null, run, offer: -1, ready: 0, perG: 0.5 },
          },
          {
            line: 0,
            extractG: 50_000 - homeG / 2,
            source: { material: 0, home: false, batchId: null, run: -1, offer: 3, ready: 5, perG: 0.5 },
          },
          {
            line: 1,
            extractG: 50_000 - homeG / 2,
            source: { material: 0, home: true, batchId: null, run, offer: -1, ready: 0, perG: 0.5 },
          },
        ],
        orders: null,
        tanks: null,
      },
      stowage: { taken: [] },
      tanks: { ids: [], volumeL: [], turnaround: [], freeDay: [], closed: [], bySize: [] },
    } as unknown as Settling;
    const batch = (id: string, home: boolean, key: string): CellarBatch => ({
      ...{ id, key, material: 0, arrives: 0, ready: 0, last: 99, carryG: 0, settled: false, share: null },
      ...{ massG: 100_000, leftG: 100_000, perG: 0.5, home },
    });
    const { brews, maltDeliveries } = fillBrews(settling, [
      batch("home", true, "run 7 0"),
      batch("bought", false, "offer 3 5"),
    ]);
    const ofHome = homeG > 0 ? [{ batchId: "home", massG: homeG }] : [];
    expect(maltDeliveries.map((one) => one.from)).toEqual([
      [...ofHome, { batchId: "bought", massG: 100_000 - homeG }],
    ]);
    expect(brews.map((one) => [one.id, one.homeShare, one.promiseHeld])).toEqual([["ale", 1, true]]);
  },
);
