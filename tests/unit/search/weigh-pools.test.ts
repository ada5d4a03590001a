/** Batches that need not be told apart as one pool: it gives what they give one by one, and no more. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { drawPool, isPool, pooledSources, sharedOut } from "../../../core/search/weigh-pools.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { priceReserve } from "../../../core/search/weigh-reserve.ts";
import type { Source } from "../../../core/search/weigh-sources.ts";
import type { Use, Weighing } from "../../../core/search/weighing.ts";
import { LinearModel, solveLinear } from "../../../core/solve/linear.ts";
import { loadHighs } from "../../_support/highs.ts";

const highs = await loadHighs();

interface Batch {
  ready: number;
  last: number;
  /** Tonnes it holds; the most, where a column says how much. */
  heldT: number;
  free: boolean;
}
interface Wanted {
  day: number;
  massT: number;
  priceCents: number;
}

function sourceOf(
  model: LinearModel,
  { ready, last, heldT, free }: Batch,
  over: Partial<Source> = {},
): Source {
  return {
    ...{ material: 0, arrives: ready, ready, last, perG: 0.8, home: true, share: new Map([[0, 1]]) },
    ...{ batchId: null, run: 0, offer: -1 },
    ...free
      // Making more of it costs a little, so that the solver does not make what nobody needs.
      ? { fixedT: 0.25, column: model.column(0.01, 0, heldT), perColumn: 1 }
      : { fixedT: heldT, column: -1, perColumn: 0 },
    ...over,
  };
}

/** A week of as-of and forty days shown, with a floor of four tonnes, where the reserve has a price. */
function problemOf(reservePerTonneDayCents: number): Problem {
  return {
    ...{ asOfDay: -1, horizonDay: 40 },
    season: { costs: { reservePerTonneDayCents } },
    materials: [{ index: 0, malt: {}, floorG: 4e6 }],
  } as unknown as Problem;
}

/** Gives out what batches hold for the best price, less what a reserve that is too small costs; pooled, or one by one. */
function givenOut(batches: readonly Batch[], wanted: readonly Wanted[], pooled: boolean, reserveCents = 0) {
  const model = new LinearModel();
  const problem = problemOf(reserveCents);
  // A model without columns has no answer.
  model.column(0, 0, 1);
  const sources = batches.map((batch) => sourceOf(model, batch));
  const drawnFrom = pooled ? pooledSources({ sources, problem })(0, 0) : sources;
  const uses: Use[] = [];
  wanted.forEach(({ day, massT, priceCents }, line) => {
    const entries: [number, number][] = [];
    for (const source of drawnFrom) {
      if (source.ready > day || source.last < day) continue;
      const column = model.column(-priceCents, 0, massT);
      uses.push({ line, demand: line, day, source, column });
      entries.push([column, 1]);
    }
    model.row(-Infinity, massT, entries);
  });
  const of = { model, problem, sources, uses, spoilt: [], pools: [], near: null } as unknown as Weighing;
  for (const [source, ofSource] of Map.groupBy(uses, (use) => use.source)) {
    if (isPool(source)) drawPool(of, source, ofSource);
    else {
      const entries = ofSource.map(({ column }): [number, number] => [column, 1]);
      if (source.column >= 0) entries.push([source.column, -1]);
      model.row(-Infinity, source.fixedT, entries);
    }
  }
  priceReserve(of);
  const { objective, values } = solveLinear(highs, model);
  return { objective, values: values!, uses, sources };
}

const batches = fc.array(
  fc.record({
    ready: fc.integer({ min: 0, max: 30 }),
    shelf: fc.constantFrom(4, 4, 4, 12, 100),
    heldT: fc.integer({ min: 1, max: 6 }),
    free: fc.boolean(),
  }).map(({ shelf, ...one }): Batch => ({ ...one, last: one.ready + shelf })),
  { minLength: 1, maxLength: 7 },
);
const wants = fc.array(
  fc.record({
    day: fc.integer({ min: 0, max: 45 }),
    massT: fc.integer({ min: 1, max: 5 }),
    priceCents: fc.integer({ min: 1, max: 9 }),
  }),
  { minLength: 1, maxLength: 9 },
);

describe("batches as a pool", () => {
  test("are worth as much as one by one, and are shared out inside their days and what they hold", () => {
    fc.assert(
      fc.property(batches, wants, (held, wanted) => {
        const apart = givenOut(held, wanted, false), pooled = givenOut(held, wanted, true);
        expect(pooled.objective).toBeCloseTo(apart.objective, 5);
        const value = (column: number) => pooled.values[column]!;
        const taken = pooled.uses.map((use) => ({ use, massT: value(use.column) }))
          .filter(({ massT }) => massT > 0);
        const holds = ({ fixedT, column }: Source) => fixedT + (column < 0 ? 0 : value(column));
        const parts = sharedOut(taken, holds);
        const sum = (of: typeof taken) => of.reduce((all, { massT }) => all + massT, 0);
        for (const line of wanted.keys()) {
          const ofLine = (of: typeof taken) => sum(of.filter(({ use }) => use.line === line));
          expect(ofLine(parts)).toBeCloseTo(ofLine(taken), 6);
        }
        for (const { use: { source, day } } of parts) {
          expect(isPool(source)).toBe(false);
          expect(source.ready).toBeLessThanOrEqual(day);
          expect(source.last).toBeGreaterThanOrEqual(day);
        }
        for (const source of pooled.sources) {
          const given = sum(parts.filter(({ use }) => use.source === source));
          expect(given).toBeLessThanOrEqual(holds(source) + 1e-6);
        }
      }),
      { numRuns: 300 },
    );
  });

  test("count as the same reserve, also what is past its last day today, or goes bad after the last use", () => {
    fc.assert(
      fc.property(batches, wants, fc.constantFrom(-20, -5, 0), (held, wanted, by) => {
        const moved = held.map((one) => ({ ...one, ready: one.ready + by, last: one.last + by }));
        const [apart, pooled] = [false, true].map((is) => givenOut(moved, wanted, is, 100).objective);
        expect(pooled).toBeCloseTo(apart!, 5);
      }),
      { numRuns: 300 },
    );
  });

  test("are only those of one material, extract and origin, home-grown or not, bought or held", () => {
    const model = new LinearModel();
    const batch = { ready: 1, last: 9, heldT: 1, free: false };
    const like = [sourceOf(model, batch), sourceOf(model, { ...batch, ready: 3, last: 11 })];
    const others: Partial<Source>[] = [
      { material: 1 },
      { perG: 0.79 },
      { home: false },
      { share: new Map([[1, 1]]) },
      { share: new Map([[0, 0.5], [1, 0.5]]) },
      { share: null },
      { offer: 2 },
      { ready: Infinity },
      { last: 5, ready: 2 },
      { last: -1, ready: -9 },
    ];
    const problem = problemOf(0);
    const all = [...like, ...others.map((over) => sourceOf(model, batch, over))];
    const pools = pooledSources({ sources: all, problem })(0, 0);
    expect(pools.filter(isPool).map((pool) => pool.members)).toEqual([like]);
    // Another material is not asked for, and what is never ready is not there.
    expect(pools).toHaveLength(others.length - 1);
    expect(pooledSources({ sources: all, problem })(0, 1)).toHaveLength(1);
  });

  test("share out the first that came in first", () => {
    const model = new LinearModel();
    const sources = [5, 0].map((ready) =>
      sourceOf(model, { ready, last: ready + 50, heldT: 2, free: false })
    );
    const problem = problemOf(0);
    const [pool] = pooledSources({ sources, problem })(0, 0) as [Source];
    const use = (day: number): Use => ({ line: day, demand: 0, day, source: pool, column: 0 });
    const parts = sharedOut([{ use: use(9), massT: 1.5 }, { use: use(2), massT: 1.5 }], (one) => one.fixedT);
    expect(parts.map(({ use: { day, source }, massT }) => [day, source.ready, massT])).toEqual([
      [2, 0, 1.5],
      [9, 0, 0.5],
      [9, 5, 1],
    ]);
  });
});
