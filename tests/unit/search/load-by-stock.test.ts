import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { RunChoice } from "../../../core/search/candidate.ts";
import { Loader } from "../../../core/search/loads.ts";
import type { FixedRun, Problem } from "../../../core/search/problem.ts";

const LOSS = 0.04;
const clean = (drawn: number) => drawn - Math.round(drawn * LOSS);

interface Farm {
  lots: { totalG: number; firmG: number; cutG: number }[];
  /** By number of the lots; `second` is the same lot or another that finishes the first's tail. */
  runs: { lot: number; second: number; leastG: number; greatestG: number; bookedG: number; share?: number }[];
}

const grams = (least: number, most: number) => fc.integer({ min: least, max: most });
const farms: fc.Arbitrary<Farm> = fc.record({
  lots: fc.array(
    fc.record({ totalG: grams(0, 6_000_000), firmG: grams(0, 400_000), cutG: grams(0, 50_000) }),
    { minLength: 1, maxLength: 3 },
  ),
  runs: fc.array(
    fc.record({
      lot: fc.nat(20),
      second: fc.nat(20),
      leastG: grams(100_000, 600_000),
      greatestG: grams(600_000, 1_500_000),
      bookedG: fc.oneof({ weight: 4, arbitrary: fc.constant(0) }, grams(1, 300_000)),
    }),
    { maxLength: 8 },
  ),
});

function loaded({ lots, runs }: Farm) {
  const slots = runs.map(({ leastG, greatestG }, index) =>
    ({ index, malt: 0, leastG: [leastG], greatestG: [greatestG] }) as unknown as RunChoice["slot"]
  );
  const problem = {
    lots: lots.map(({ totalG, firmG }, index) => ({ index, crop: 0, totalG, firmG })),
    materials: [{ made: { screeningLoss: LOSS } }],
    slots,
  } as unknown as Problem;
  const choices = runs.map(({ lot, second, bookedG, share }, i): RunChoice => {
    const first = lot % lots.length, other = second % lots.length;
    const draws = [{ lot: first, lotId: "", storeId: "", massG: bookedG }];
    const fixed = { id: "", standing: "booked", draws } as unknown as FixedRun;
    return {
      slot: slots[i] as RunChoice["slot"],
      lot: first,
      lot2: other === first ? -1 : other,
      fixed: bookedG > 0 ? fixed : null,
      ...(share === undefined ? {} : { loadShare: share }),
    };
  });
  const left = new Float64Array(lots.length), cut = Float64Array.from(lots.map((lot) => lot.cutG));
  const loads = new Loader(problem).load(choices, cut, left);
  return { choices, loads, left };
}

describe("loads by stock", () => {
  test("lie inside the vessels' limits, two lots only when the first is finished, booked runs as booked", () => {
    fc.assert(
      fc.property(farms, (farm) => {
        const { choices, loads } = loaded(farm);
        const left = farm.lots.map(({ totalG, firmG, cutG }) => totalG - firmG - cutG);
        for (const run of choices) if (run.fixed) left[run.lot]! -= run.fixed.draws[0]!.massG;
        choices.forEach((run, i) => {
          const first = loads.drawG[i]!, second = loads.draw2G[i]!;
          if (run.fixed) {
            expect([first, second]).toEqual([run.fixed.draws[0]!.massG, 0]);
            return;
          }
          if (second > 0) expect(Math.floor(left[run.lot]!)).toBe(first);
          left[run.lot]! -= first;
          if (run.lot2 >= 0) left[run.lot2]! -= second;
          else expect(second).toBe(0);
          if (first + second === 0) return;
          expect(left[run.lot]).toBeGreaterThanOrEqual(0);
          if (second > 0) expect(left[run.lot2]).toBeGreaterThanOrEqual(0);
          expect(clean(first + second)).toBeGreaterThanOrEqual(run.slot.leastG[0]!);
          expect(clean(first + second)).toBeLessThanOrEqual(run.slot.greatestG[0]!);
        });
      }),
      { numRuns: 500, seed: 41 },
    );
  });

  test("are as great as vessels and stock allow, with the least of later runs kept back", () => {
    const run = { lot: 0, second: 0, leastG: 480_000, greatestG: 960_000, bookedG: 0 };
    const of = (totalG: number, runs = [run, run]) =>
      loaded({ lots: [{ totalG, firmG: 0, cutG: 0 }], runs }).loads.drawG;
    expect(of(3_000_000)).toEqual([1_000_000, 1_000_000]);
    expect(of(1_200_000)).toEqual([700_000, 500_000]);
    expect(of(900_000)).toEqual([500_000, 0]);
    expect(of(400_000)).toEqual([0, 0]);
  });

  test("lie as far between least and greatest as is asked for, where there is grain for it", () => {
    const run = { lot: 0, second: 0, leastG: 480_000, greatestG: 960_000, bookedG: 0 };
    const of = (totalG: number, ...shares: number[]) =>
      loaded({ lots: [{ totalG, firmG: 0, cutG: 0 }], runs: shares.map((share) => ({ ...run, share })) });
    expect(of(9_000_000, 0, 0.5, 1).loads.drawG).toEqual([500_000, 750_000, 1_000_000]);
    expect(of(1_100_000, 0.5, 0.5).loads.drawG).toEqual([600_000, 500_000]);
    // What a small run leaves is there for the next.
    expect(of(1_500_000, 0, 1).loads.drawG).toEqual([500_000, 1_000_000]);
  });
});
