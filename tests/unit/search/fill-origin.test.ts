import { describe, expect, test } from "vitest";
import type { CellarBatch } from "../../../core/search/cellar.ts";
import { fillBrews } from "../../../core/search/fill-brews.ts";
import type { Requirement } from "../../../core/search/problem.ts";
import { rawKey } from "../../../core/search/serve.ts";
import type { Settling } from "../../../core/search/settling.ts";

interface Grist {
  /** Grams of each batch of malt and what part of it is of the first lot; null where that is not known. */
  malt: [massG: number, firstLot: number | null][];
  /** Grams of raw grain by lot. */
  raw?: number[];
}

/** Whether a brew of this grist is made that asks for `leastShare` of the first of two lots. Round numbers, invented. */
function isMade({ malt, raw = [0, 0] }: Grist, leastShare: number, unmixed = false): boolean {
  const rawG = raw.reduce((sum, massG) => sum + massG, 0);
  const maltG = malt.reduce((sum, [massG]) => sum + massG, 0);
  const requires: Requirement[] = [{ leastShare, unmixed, counts: [true, false] }];
  const lines = [
    { lineId: "malt", material: 0, extractG: maltG / 2, bookMassG: maltG, substitutes: [] },
    ...(rawG > 0 ? [{ lineId: "raw", material: 1, extractG: rawG, bookMassG: rawG, substitutes: [] }] : []),
  ];
  const settling = {
    problem: {
      materials: [{ index: 0, malt: {} }, { index: 1, malt: null }],
      demands: [{
        index: 0,
        id: "ale",
        kind: "brew",
        promise: 0,
        lines,
        requires,
        volumeL: 900,
        tankDays: 9,
      }],
      lots: [{ id: "hill", home: true }, { id: "meadow", home: true }],
      stores: [{ id: "bin" }],
      season: { contracts: [] },
    },
    evaluator: { table: { first: [0, lines.length] } },
    candidate: { day: Int32Array.of(10) },
    weights: { status: Uint8Array.of(1), uses: [], orders: null, tanks: null },
    stowage: { taken: raw.map((massG, lot) => ({ key: rawKey(1), lot, store: 0, massG })) },
    tanks: { ids: [], volumeL: [], turnaround: [], freeDay: [], closed: [], bySize: [] },
  } as unknown as Settling;
  const batches = malt.map(([massG, first], i): CellarBatch => ({
    ...{ id: `b${i}`, key: `k${i}`, material: 0, arrives: 0, ready: 0, last: 99, carryG: 0, settled: false },
    ...{ massG, leftG: massG, perG: 0.5, home: true },
    share: first === null ? null : new Map([[0, first], [1, 1 - first]]),
  }));
  return fillBrews(settling, batches).brews.length === 1;
}

describe("a brew that asks for grain of named origin is made", () => {
  const mixed: Grist = { malt: [[600, 1], [400, 0.5]] };

  test("if enough of its malt is of it, by share of each batch; less than a gram may be missing", () => {
    expect([0.8, 0.801, 0.802].map((least) => isMade(mixed, least))).toEqual([true, true, false]);
    expect([0.6, 0.7].map((least) => isMade({ malt: [[600, 1], [400, null]] }, least))).toEqual([
      true,
      false,
    ]);
  });

  test("where it must be unmixed, of whole batches alone", () => {
    expect([0.6, 0.61].map((least) => isMade(mixed, least, true))).toEqual([true, false]);
  });

  test("of malt and raw grain together", () => {
    const half: Grist = { malt: [[500, 1]], raw: [100, 400] };
    expect([0.6, 0.61].map((least) => isMade(half, least, true))).toEqual([true, false]);
    expect(isMade({ malt: [[500, 0]], raw: [500, 0] }, 0.5)).toBe(true);
  });
});
