import { describe, expect, test } from "vitest";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { lotFits } from "../../../core/search/candidate.ts";
import { compareScores } from "../../../core/search/compare.ts";
import { dateBrews } from "../../../core/search/dates.ts";
import { sparingPlan } from "../../../core/search/sparing.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";
import { plainStart } from "./_plain-start.ts";

/** The sparing plan and the naive one of a made micro season whose malt store has only so many places. */
function plansOf(seed: number, places: number) {
  const season = makeSeason("micro", seed);
  season.maltStore.places = places;
  const { problem, tanks, evaluator, candidate } = plainStart(season);
  const naive = evaluator.evaluate(candidate, 1);
  const fixed = candidate.runs.filter((run) => run.fixed);
  const plan = sparingPlan(problem, evaluator, fixed, dateBrews(problem, tanks).day);
  return { problem, naive, plan, sparing: evaluator.evaluate(plan, 1) };
}

const total = (made: readonly number[]) => made.reduce((sum, one) => sum + one, 0);

describe("a plan for a malt store with little room", () => {
  test.each([[11, 2], [23, 8]])("makes more than the naive one: season %i with %i places", (seed, places) => {
    const { naive, sparing } = plansOf(seed, places);
    expect(sparing.score.broken).toBe(0);
    expect(total(sparing.score.made)).toBeGreaterThan(total(naive.score.made));
    expect(compareScores(sparing.score, naive.score)).toBeLessThan(0);
  });

  test("takes brews of the first class first, and those it has no room for have no day", () => {
    const { problem, plan, sparing } = plansOf(14, 2);
    const first = problem.demands.filter((one) => one.class === 1).map((one) => one.index);
    expect(first.map((demand) => sparing.status[demand]! > 0)).toEqual([true, true]);
    expect([...plan.day].map((on) => on >= 0)).toEqual([...sparing.status].map((one) => one > 0));
    expect(Math.min(...plan.day)).toBe(-1);
  });

  test("has no run that another shuts out, only lots that are fit, and nothing over", () => {
    let free = 0;
    for (const [seed, places] of [[2, 1], [3, 4], [5, 4], [24, 4], [26, 4], [29, 4], [39, 4]] as const) {
      const { problem, plan, sparing } = plansOf(seed, places);
      expect(sparing.score.broken).toBe(0);
      const board = new VesselBoard(problem);
      for (const { slot, lot, fixed } of plan.runs) {
        if (!fixed) {
          expect(lotFits(problem, slot, lot) && board.fits(slot, problem.lots[lot]!.crop)).toBe(true);
        }
        if (!fixed) free++;
        board.put(slot, problem.lots[lot]!.crop);
      }
    }
    // The rules were tried on plans that have runs.
    expect(free).toBeGreaterThan(10);
  });
});
