import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Cellar, type CellarBatch } from "../../../core/search/cellar.ts";
import type { Material, Problem } from "../../../core/search/problem.ts";

const malt = { index: 0 } as Material;
const problem = { materials: [malt] } as unknown as Problem;

const batches = fc.array(
  fc.record({
    ready: fc.integer({ min: 0, max: 20 }),
    good: fc.integer({ min: 0, max: 20 }),
    massG: fc.integer({ min: 1, max: 40_000 }),
    perG: fc.double({ min: 0.5, max: 0.85, noNaN: true }),
    home: fc.boolean(),
  }),
  { minLength: 1, maxLength: 6 },
).map((list) =>
  list.map(({ ready, good, massG, perG, home }, i): CellarBatch => ({
    ...{ id: `b${i}`, key: `k${i}`, material: 0, arrives: ready, carryG: 0, settled: false, share: null },
    ...{ ready, last: ready + good, massG, leftG: massG, perG, home },
  }))
);
const takes = fc.array(
  fc.record({
    day: fc.integer({ min: 0, max: 40 }),
    extractG: fc.double({ min: 0, max: 30_000, noNaN: true }),
    home: fc.boolean(),
  }),
  { maxLength: 12 },
);

describe("the cellar", () => {
  test("meets many uses together as exactly as one, and a batch that they use up leaves no gram behind", () => {
    const need = fc.double({ min: 500, max: 9000, noNaN: true });
    const sizes = fc.array(
      fc.tuple(
        fc.array(need, { minLength: 1, maxLength: 5 }),
        fc.double({ min: 0.5, max: 0.85, noNaN: true }),
      ),
      {
        minLength: 2,
        maxLength: 8,
      },
    );
    fc.assert(
      fc.property(sizes, (list) => {
        // The last use of each batch asks for all that is left of it.
        const asks = list.map(([needs, perG]) => {
          const sum = needs.reduce((all, one) => all + one, 0);
          return [...needs, (Math.ceil(sum / perG) + 700) * perG - sum];
        });
        const made = list.map(([, perG], i): CellarBatch => {
          const massG = Math.round(asks[i]!.reduce((sum, one) => sum + one, 0) / perG);
          return {
            ...{ id: `b${i}`, key: `k${i}`, material: 0, arrives: i, carryG: 0, settled: false, share: null },
            ...{ ready: i, last: 100, massG, leftG: massG, perG, home: true },
          };
        });
        const cellar = new Cellar(problem, made);
        asks.forEach((needs, i) => {
          for (const extractG of needs) expect(cellar.take(malt, true, extractG, 50).missingG).toBe(0);
          expect(made[i]!.leftG).toBe(0);
        });
      }),
      { numRuns: 200, seed: 5 },
    );
  });

  test("meets the extract to a gram for each use, from fresh batches of the right kind, never overdrawn", () => {
    fc.assert(
      fc.property(batches, takes, (list, asks) => {
        const cellar = new Cellar(problem, list);
        const left = new Map(list.map((batch) => [batch.id, batch.massG]));
        for (const { day, extractG, home } of asks) {
          const usable = list.filter((one) => one.home === home && one.ready <= day && day <= one.last);
          const { drawn, missingG } = cellar.take(malt, home, extractG, day);
          let given = 0;
          for (const { batch, massG } of drawn) {
            expect(usable).toContain(batch);
            expect(Number.isInteger(massG) && massG > 0).toBe(true);
            given += massG * batch.perG;
            left.set(batch.id, left.get(batch.id)! - massG);
          }
          expect(Math.abs(extractG - missingG - given)).toBeLessThanOrEqual(Math.max(1, drawn.length));
          // What is said to be missing is missing: nothing usable was left behind.
          if (missingG > 1) expect(usable.every((one) => one.leftG === 0)).toBe(true);
          for (const batch of list) {
            expect(batch.leftG).toBe(left.get(batch.id));
            expect(batch.leftG).toBeGreaterThanOrEqual(0);
          }
        }
      }),
      { numRuns: 200, seed: 3 },
    );
  });

  test("hands the batch that was ready first out first, and takes back what was drawn", () => {
    fc.assert(
      fc.property(batches, fc.integer({ min: 0, max: 40 }), (list, day) => {
        const cellar = new Cellar(problem, list);
        const { drawn } = cellar.take(malt, true, 50_000, day);
        const ready = drawn.map(({ batch }) => batch.ready);
        expect(ready).toEqual([...ready].sort((a, b) => a - b));
        cellar.giveBack(drawn);
        expect(list.map((one) => one.leftG)).toEqual(list.map((one) => one.massG));
      }),
      { numRuns: 100, seed: 4 },
    );
  });

  test("a batch shared out in fractions of a gram is met to a gram each time and ends empty", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 900_000 }),
        fc.double({ min: 0.5, max: 0.85, noNaN: true }),
        fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: 1, maxLength: 12 }),
        (massG, perG, shares) => {
          const batch: CellarBatch = {
            ...{
              id: "b",
              key: "k",
              material: 0,
              arrives: 0,
              ready: 0,
              last: 9,
              carryG: 0,
              settled: false,
              share: null,
            },
            ...{ massG, leftG: massG, perG, home: true },
          };
          const cellar = new Cellar(problem, [batch]);
          const whole = shares.reduce((sum, share) => sum + share, 0);
          for (const share of shares) {
            const asked = massG * perG * share / whole;
            const drawn = cellar.takeFrom(malt, "k", asked, 5);
            const given = drawn.reduce((sum, one) => sum + one.massG * perG, 0);
            expect(Math.abs(given - asked)).toBeLessThanOrEqual(1);
          }
          expect(batch.leftG).toBe(0);
          expect(cellar.takeFrom(malt, "k", 1, 10)).toEqual([]);
        },
      ),
      { numRuns: 200, seed: 5 },
    );
  });

  test("sells bought malt alone where malt is to be bought, however old the home-grown is", () => {
    fc.assert(
      fc.property(
        batches,
        fc.integer({ min: 0, max: 40 }),
        fc.integer({ min: 1, max: 60_000 }),
        (list, day, wantedG) => {
          const usable = list.filter((one) => !one.home && one.ready <= day && day <= one.last);
          const thereG = usable.reduce((sum, one) => sum + one.massG, 0);
          const drawn = new Cellar(problem, list).takeMass(malt, "bought", wantedG, day);
          for (const { batch } of drawn) expect(usable).toContain(batch);
          expect(drawn.reduce((sum, one) => sum + one.massG, 0)).toBe(Math.min(wantedG, thereG));
        },
      ),
      { numRuns: 100, seed: 4 },
    );
  });
});
