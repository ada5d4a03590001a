import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import type { Highs } from "highs";
import { LinearModel, solveLinear } from "../../../core/solve/linear.ts";
import { loadHighs } from "../../_support/highs.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** The product-mix example of Hillier and Lieberman, Introduction to Operations Research (from memory): 36 at (2, 6). */
function productMix(): { model: LinearModel; x: number; y: number } {
  const model = new LinearModel();
  const x = model.column(-3, 0, 4);
  const y = model.column(-5, 0, 100);
  model.row(-Infinity, 12, [[y, 2]]);
  model.row(-Infinity, 18, [[x, 3], [y, 2]]);
  return { model, x, y };
}

describe("a linear model", () => {
  test("gives the optimum of a textbook example", () => {
    const { model, x, y } = productMix();
    const { optimal, objective, values } = solveLinear(highs, model);
    expect(optimal).toBe(true);
    expect(objective).toBeCloseTo(-36, 6);
    expect(values![x]).toBeCloseTo(2, 6);
    expect(values![y]).toBeCloseTo(6, 6);
  });

  test("adds up entries of one column in a row", () => {
    const model = new LinearModel();
    const x = model.column(1, 0, 100);
    model.row(12, Infinity, [[x, 1], [x, 2]]);
    expect(solveLinear(highs, model).values![x]).toBeCloseTo(4, 6);
  });

  test("refuses a column without finite bounds, which could make the solver loop without end", () => {
    const model = new LinearModel();
    expect(() => model.column(1, 0, Infinity)).toThrow(RangeError);
    expect(() => model.column(1, -Infinity, 0)).toThrow(RangeError);
  });

  test("with whole columns finds what trying every choice finds", () => {
    const items = fc.array(fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 60 })), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(items, fc.integer({ min: 0, max: 120 }), (list, room) => {
        const model = new LinearModel();
        const columns = list.map(([, worth]) => model.column(-worth, 0, 1, true));
        model.row(-Infinity, room, columns.map((column, i) => [column, list[i]![0]]));
        let best = 0;
        for (let chosen = 0; chosen < 1 << list.length; chosen++) {
          let weight = 0, worth = 0;
          list.forEach((item, i) => {
            if ((chosen & (1 << i)) === 0) return;
            weight += item[0];
            worth += item[1];
          });
          if (weight <= room) best = Math.max(best, worth);
        }
        const { optimal, objective, values } = solveLinear(highs, model);
        expect(optimal).toBe(true);
        expect(objective).toBeCloseTo(-best, 5);
        for (const value of values!) expect(Math.abs(value - Math.round(value))).toBeLessThan(1e-6);
      }),
      { numRuns: 40, seed: 2 },
    );
  });

  test("that nothing can meet has no values to read", () => {
    for (const whole of [false, true]) {
      const { model, x, y } = productMix();
      const z = model.column(1, 0, 1, whole);
      model.row(11, Infinity, [[x, 1], [y, 1], [z, 1]]);
      const { optimal, objective, values } = solveLinear(highs, model);
      expect(values).toBeNull();
      expect(optimal).toBe(false);
      expect(objective).toBe(Infinity);
    }
  });
});
