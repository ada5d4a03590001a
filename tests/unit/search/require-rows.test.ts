import { expect, test } from "vitest";
import type { Source } from "../../../core/search/weigh-sources.ts";
import { requireRows } from "../../../core/search/weigh-promises.ts";
import type { Weighing } from "../../../core/search/weighing.ts";

/** What each of three batches adds to a brew that asks for a quarter of its weight from the first of two lots. */
function rowOf(unmixed: boolean, status = 2): number[] | undefined {
  const shares = [[[0, 1]], [[0, 0.5], [1, 0.5]], [[1, 1]]] as [number, number][][];
  const rows: number[][] = [];
  requireRows({
    problem: { demands: [{ lines: [], requires: [{ leastShare: 0.25, counts: [true, false], unmixed }] }] },
    evaluator: { table: { first: [0, 0] } },
    order: [0],
    whole: false,
    evaluation: { status: [status] },
    made: [-1],
    uses: shares.map((share, column) => ({
      demand: 0,
      column,
      source: { share: new Map(share), perG: 0.8 } as unknown as Source,
    })),
    model: {
      row: (_low: number, _high: number, entries: [number, number][]) =>
        rows.push(entries.map(([, is]) => is)),
    },
  } as unknown as Weighing);
  return rows[0]?.map((is) => Math.round(100 * is) / 100);
}

test("a batch counts by its share of the named lots, and where they must be unmixed only as a whole", () => {
  expect(rowOf(false)).toEqual([0.94, 0.31, -0.31]);
  expect(rowOf(true)).toEqual([0.94, -0.31, -0.31]);
});

test("a brew that is not made asks for nothing", () => {
  expect(rowOf(false, 0)).toBeUndefined();
});

test("raw grain of a named lot counts, other raw grain only adds to the weight", () => {
  const leastOf = (named: number) => {
    let least: number | undefined;
    requireRows({
      problem: {
        materials: [{ malt: null }],
        demands: [{
          lines: [{ material: 0, bookMassG: 400_000 }],
          requires: [{ leastShare: 0.25, counts: [true], unmixed: false }],
        }],
      },
      evaluator: { table: { first: [0, 1] } },
      ...{ order: [0], whole: false, made: [-1], uses: [] },
      evaluation: { status: [2], homeG: [0], namedG: [named] },
      model: { row: (low: number) => least = low },
    } as unknown as Weighing);
    return Math.round(1000 * least!) / 1000;
  };
  expect([leastOf(0), leastOf(400_000)]).toEqual([0.1, -0.3]);
});
