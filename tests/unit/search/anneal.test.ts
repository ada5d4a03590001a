import { describe, expect, test } from "vitest";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { Annealer } from "../../../core/search/anneal.ts";
import { compareScores, energyOf, steeringOf } from "../../../core/search/compare.ts";
import type { Score } from "../../../core/search/evaluate.ts";
import { boardOf, signature } from "../../../core/search/polish.ts";
import { plainStart } from "./_plain-start.ts";

function searched(size: "small" | "micro", seed: number, iterations: number) {
  const { problem, tanks, evaluator, candidate } = plainStart(makeSeason(size, seed));
  const steering = steeringOf(problem, evaluator.markets.map((market) => market.centsPerExtractG));
  const board = boardOf(problem, candidate);
  const annealer = new Annealer(problem, evaluator, board, tanks, candidate, {
    seed: 7,
    iterations,
    steering,
    substitutes: true,
  });
  const found = annealer.run();
  return { found, before: evaluator.evaluate(candidate, 1).score, problem, steering };
}

describe("a search of a small season", () => {
  test.each([2, 5])("finds something better than the naive plan (seed %i)", (seed) => {
    const { found, before } = searched("small", seed, 4000);
    expect(compareScores(found.score, before)).toBeLessThan(0);
  });

  test("finds the same twice", () => {
    const [one, other] = [1, 2].map(() => searched("small", 3, 1000).found);
    expect(signature(one!.candidate)).toBe(signature(other!.candidate));
    expect(one!.score).toEqual(other!.score);
  });
});

test("no brew is worth giving up for what it costs, bought or made at home", () => {
  for (const seed of [2, 3]) {
    const { problem, steering } = searched("small", seed, 0);
    for (const { kind, lines, class: of } of problem.demands) {
      if (kind !== "brew") continue;
      const cents = lines.reduce((sum, { material, extractG }) => {
        const { offers, made, extract } = problem.materials[material]!;
        const bought = offers.map((one) => extractG * one.packCents / (one.packG * one.extract));
        const loads = problem.slots.filter((slot) => slot.malt === material).flatMap((slot) =>
          slot.greatestG
        );
        const home = made
          ? made.runCents * extractG / (Math.min(...loads.filter((g) => g > 0)) * extract)
          : 0;
        return sum + Math.max(home, ...bought, 0);
      }, 0);
      const made: Score["made"] = [9, 9, 9, 9];
      const whole: Score = { made, promises: 9, moneyCents: cents, broken: 0 };
      const without: Score = {
        ...whole,
        made: made.map((n, i) => n - (i === of - 1 ? 1 : 0)) as Score["made"],
        moneyCents: 0,
      };
      expect(energyOf(whole, steering)).toBeLessThan(energyOf(without, steering));
    }
  }
});
