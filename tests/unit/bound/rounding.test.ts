import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rounded, type Wanted } from "../../../core/bound/rounding.ts";

const part = (max: number) => fc.double({ min: 0, max, noNaN: true });

/** A row, and a point of it whose whole columns are whole: columns 0 to 2 whole, 3 the rest, 4 made or not. */
const instance = fc.record({
  sizes: fc.tuple(part(3), part(3), part(3)),
  counts: fc.tuple(fc.nat(4), fc.nat(4), fc.nat(4)),
  need: part(2),
  made: fc.constantFrom(0, 0.5, 1),
  wanted: fc.double({ min: 0.01, max: 9, noNaN: true }),
  over: part(1),
  step: fc.double({ min: 0.05, max: 4, noNaN: true }),
});

describe("rounding", () => {
  test("cuts off no point whose whole numbers are whole", () => {
    fc.assert(
      fc.property(instance, ({ sizes, counts, need, made, wanted, over, step }) => {
        const whole = sizes.reduce((sum, size, i) => sum + size * counts[i]!, 0);
        const rest = Math.max(0, wanted - whole - need * (1 - made)) + over;
        const row: Wanted = {
          wholes: sizes.map((size, i) => [i, size] as const),
          rest: [[3, 1]],
          made: [[4, need]],
          wanted,
        };
        const cut = rounded(row, step);
        if (!cut) return;
        const point = [...counts, rest, made];
        const is = cut.entries.reduce((sum, [column, gives]) => sum + gives * point[column]!, 0);
        expect(is).toBeGreaterThanOrEqual(cut.lower - 1e-7);
      }),
      { numRuns: 3000, seed: 5 },
    );
  });

  test("cuts off two and a half runs where three are needed", () => {
    const row: Wanted = { wholes: [[0, 2]], rest: [], made: [], wanted: 5 };
    const cut = rounded(row, 2)!;
    expect(cut.lower / cut.entries[0]![1]).toBeCloseTo(3, 9);
  });
});
