import { describe, expect, test } from "vitest";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { SeasonSize } from "../../../core/generate/sizes.ts";
import { Annealer } from "../../../core/search/anneal.ts";
import { compareScores, steeringOf } from "../../../core/search/compare.ts";
import { dateBrews } from "../../../core/search/dates.ts";
import { Evaluator } from "../../../core/search/evaluate.ts";
import { fixedRuns } from "../../../core/search/fixed.ts";
import { Loader } from "../../../core/search/loads.ts";
import { naivePlan } from "../../../core/search/naive.ts";
import { boardOf } from "../../../core/search/polish.ts";
import { problemOf } from "../../../core/search/problem.ts";
import { tankBoard } from "../../../core/search/tanks.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";

/** The naive plan of a made season, runs that the stores have no grain for still in it. */
function naiveStart(size: SeasonSize, seed: number) {
  const season = makeSeason(size, seed);
  const problem = problemOf(season, season.asOf), tanks = tankBoard(problem);
  const board = new VesselBoard(problem);
  const { fixed } = fixedRuns(problem, board);
  const candidate = naivePlan(problem, fixed, board, dateBrews(problem, tanks));
  return { problem, tanks, candidate, evaluator: new Evaluator(problem, problem.booked.changes) };
}

describe("where the bins do not hold what comes in", () => {
  test.each([["small", 7], ["typical", 7], ["large", 1]] as const)(
    "runs of a %s season (seed %i) count on grain that they get",
    (size, seed) => {
      const { evaluator, candidate, problem } = naiveStart(size, seed);
      evaluator.lenient = true;
      const hoped = evaluator.evaluate(candidate, 1);
      evaluator.lenient = false;
      const { loads, stowage, score, cutG } = evaluator.evaluate(candidate, 1);
      expect(cutG.some((massG) => massG > 0)).toBe(true);
      expect(stowage.leftOut.length).toBeGreaterThan(0);
      // Only of the large one is grain still short once all its lots are cut.
      expect(hoped.stowage.short.size > 0).toBe(size === "large");
      expect(stowage.short.size).toBe(0);
      expect(score.broken).toBe(0);
      candidate.runs.forEach((run, key) => {
        if (run.fixed) return;
        const gotG = stowage.taken.reduce((sum, one) => one.key === key ? sum + one.massG : sum, 0);
        expect(gotG).toBe(loads.drawG[key]! + loads.draw2G[key]!);
        const least = problem.materials[run.slot.malt]!.made!;
        if (gotG > 0) {
          const cleanG = gotG - Math.round(gotG * least.screeningLoss);
          expect(cleanG).toBeGreaterThanOrEqual(run.slot.leastG[problem.lots[run.lot]!.crop]!);
        }
      });
    },
  );

  test("the search of a large season still finds what is better", () => {
    const { evaluator, candidate, problem, tanks } = naiveStart("large", 1);
    const steering = steeringOf(problem, evaluator.markets.map((market) => market.centsPerExtractG));
    const options = { seed: 7, iterations: 600, steering, substitutes: false };
    const found = new Annealer(problem, evaluator, boardOf(problem, candidate), tanks, candidate, options)
      .run();
    expect(compareScores(found.score, evaluator.evaluate(candidate, 1).score)).toBeLessThan(0);
  });
});

test("a load is lowered to what was there for it; below its least the run is left out", () => {
  const { problem, candidate } = naiveStart("small", 2);
  const loader = new Loader(problem);
  const left = new Float64Array(problem.lots.length);
  const none = new Float64Array(problem.lots.length);
  const loads = loader.load(candidate.runs, none, left);
  const before = [...loads.drawG];
  const free = candidate.runs.flatMap((run, i) => !run.fixed && before[i]! > 0 ? [i] : []);
  const [first, second] = free as [number, number];
  const taken = free.map((key) => ({
    ...{ key, lot: candidate.runs[key]!.lot, store: 0 },
    massG: key === first ? before[key]! - 1 : key === second ? 10 : before[key]!,
  }));
  loader.load(candidate.runs, none, left);
  loader.limit(candidate.runs, taken);
  const leastOf = (key: number) => {
    const { slot, lot } = candidate.runs[key]!;
    const clean = before[key]! - 1;
    const kept = clean - Math.round(clean * problem.materials[slot.malt]!.made!.screeningLoss);
    return kept >= slot.leastG[problem.lots[lot]!.crop]!;
  };
  expect(loads.drawG[first]).toBe(leastOf(first) ? before[first]! - 1 : 0);
  expect(loads.drawG[second]).toBe(0);
  for (const key of free.slice(2)) expect(loads.drawG[key]).toBe(before[key]);
});
