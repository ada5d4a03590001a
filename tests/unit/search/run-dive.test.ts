/** Whole columns from a model in parts: covers of chance, against all choices. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { costOf, diveDown, spareRuns } from "../../../core/search/run-dive.ts";
import { LinearModel } from "../../../core/solve/linear.ts";
import { withStandingModel } from "../../../core/solve/standing.ts";
import { loadHighs } from "../../_support/highs.ts";

const highs = await loadHighs();
const LACK_PRICE = 1e5;

interface Case {
  runs: { cents: number; most: number; least: number; serves: number[] }[];
  needs: number[];
  apart: [number, number][];
}

const cases = fc.record({
  runs: fc.array(
    fc.record({
      cents: fc.integer({ min: 20, max: 60 }),
      most: fc.integer({ min: 4, max: 9 }),
      least: fc.integer({ min: 0, max: 3 }),
      serves: fc.uniqueArray(fc.integer({ min: 0, max: 2 }), { minLength: 1, maxLength: 3 }),
    }),
    { minLength: 3, maxLength: 8 },
  ),
  needs: fc.array(fc.integer({ min: 0, max: 8 }), { minLength: 3, maxLength: 3 }),
  apart: fc.array(fc.tuple(fc.integer({ min: 0, max: 7 }), fc.integer({ min: 0, max: 7 })), { maxLength: 3 }),
});

/** Runs that are made or not, of a load between their limits; what they lack for the needs is dear. Some must not be made together. */
function modelOf({ runs, needs, apart }: Case) {
  const model = new LinearModel();
  const columns = runs.map(({ cents, most, least }) => {
    const made = model.column(cents, 0, 1), load = model.column(1, 0, most);
    model.row(-Infinity, 0, [[load, 1], [made, -most]]);
    model.row(0, Infinity, [[load, 1], [made, -least]]);
    return { made, load };
  });
  const parts = runs.map(({ serves }, i) => {
    const uses = serves.map((need) => ({ need, column: model.column(0, 0, 20) }));
    model.row(-Infinity, 0, [
      [columns[i]!.load, -1],
      ...uses.map(({ column }): [number, number] => [column, 1]),
    ]);
    return uses;
  });
  const lacks = needs.map((amount, need) => {
    const lack = model.column(LACK_PRICE, 0, 20);
    const entries = parts.flat().filter((use) => use.need === need).map((
      use,
    ): [number, number] => [use.column, 1]);
    model.row(amount, Infinity, [...entries, [lack, 1]]);
    return lack;
  });
  for (const [one, other] of apart) {
    if (one === other || one >= runs.length || other >= runs.length) continue;
    model.row(-Infinity, 1, [[columns[one]!.made, 1], [columns[other]!.made, 1]]);
  }
  return { model, columns, lacks };
}

/** The least cost over all sets of runs. */
function cheapest({ model, columns }: ReturnType<typeof modelOf>): number {
  let best = Infinity;
  withStandingModel(highs, model, (lp) => {
    for (let code = 0; code < 1 << columns.length; code++) {
      columns.forEach(({ made }, i) => lp.setColumn(made, (code >> i) & 1, (code >> i) & 1));
      const values = lp.solve(model.cost)?.values;
      if (values) best = Math.min(best, costOf(model, values));
    }
    for (const { made } of columns) lp.setColumn(made, 0, 1);
  });
  return best;
}

describe("the way down", () => {
  test("ends in whole runs that lack nothing which any runs can give, at little more than the least cost", () => {
    let found = 0, least = 0;
    fc.assert(
      fc.property(cases, fc.integer({ min: 1, max: 12 }), (one, steps) => {
        const of = modelOf(one);
        const best = cheapest(of);
        const values = withStandingModel(highs, of.model, (lp) => {
          const dived = diveDown(of.model, lp, of.columns.map(({ made }) => made), steps, () => false);
          expect(dived).not.toBeNull();
          const spared = spareRuns(of.model, lp, of.columns, dived!, () => false);
          expect(costOf(of.model, spared)).toBeLessThanOrEqual(costOf(of.model, dived!) + 1e-6);
          return spared;
        });
        for (const { made } of of.columns) {
          expect(Math.abs(values[made]! - Math.round(values[made]!))).toBeLessThan(1e-5);
        }
        const cost = costOf(of.model, values);
        expect(cost).toBeGreaterThan(best - 1e-6);
        if (best >= LACK_PRICE) return;
        found += cost;
        least += best;
      }),
      { numRuns: 150, seed: 21 },
    );
    expect(found).toBeGreaterThan(0);
    expect(found / least).toBeLessThan(1.1);
  });

  test("puts a run to nothing where raising it would leave lacking what another alone can give", () => {
    const run = { cents: 20, most: 10, least: 0 };
    const of = modelOf({
      runs: [{ ...run, serves: [0] }, { ...run, serves: [1] }, { ...run, cents: 60, serves: [0] }],
      needs: [7, 3, 0],
      apart: [[0, 1]],
    });
    const columns = of.columns.map(({ made }) => made);
    const dived = withStandingModel(
      highs,
      of.model,
      (lp) => diveDown(of.model, lp, columns, 5, () => false),
    )!;
    expect(columns.map((made) => Math.round(dived[made]!))).toEqual([0, 1, 1]);
    expect(Math.max(...of.lacks.map((column) => dived[column]!))).toBeLessThan(1e-6);
  });

  test("is left where it is cancelled", () => {
    const of = modelOf({
      runs: [1, 2, 3].map((most) => ({ cents: 30, most: most + 4, least: 0, serves: [0, 1, 2] })),
      ...{ needs: [3, 3, 3], apart: [] },
    });
    const columns = of.columns.map(({ made }) => made);
    const dived = withStandingModel(highs, of.model, (lp) => diveDown(of.model, lp, columns, 5, () => true));
    expect(dived).toBeNull();
  });
});

test("a run that is not needed is spared", () => {
  const run = { cents: 30, most: 9, least: 1, serves: [0] };
  const of = modelOf({ runs: [run, run, run], needs: [12, 0, 0], apart: [] });
  withStandingModel(highs, of.model, (lp) => {
    for (const { made } of of.columns) lp.setColumn(made, 1, 1);
    const all = lp.solve(of.model.cost)!.values;
    const spared = spareRuns(of.model, lp, of.columns, all, () => false);
    expect(of.columns.reduce((sum, { made }) => sum + spared[made]!, 0)).toBe(2);
    expect(costOf(of.model, spared)).toBeCloseTo(2 * 30 + 12, 6);
  });
});
