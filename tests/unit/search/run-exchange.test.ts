/** Runs that take the place of others, for the days and promises of a plan. */
import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { cropOf, lotFits, type RunChoice } from "../../../core/search/candidate.ts";
import { finish, settledEffort } from "../../../core/search/finish.ts";
import { doneBy, exchangeRuns } from "../../../core/search/run-exchange.ts";
import { runOptions } from "../../../core/search/run-options.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";
import { loadHighs } from "../../_support/highs.ts";
import { plainStart } from "./_plain-start.ts";

const highs = await loadHighs();

async function exchanged(seed: number) {
  const season = makeSeason("small", seed);
  const start = plainStart(season);
  const by = settledEffort({ ...start, highs });
  const plan = {
    ...await makeNaivePlan(season, { seed: 1, iterations: 0, highs }),
    ...finish(by, start.candidate),
  };
  const candidate = exchangeRuns(by, start.candidate, plan);
  const done = doneBy(start.problem, plan);
  return {
    season,
    ...start,
    by,
    plan,
    candidate,
    better: candidate && { ...plan, ...finish(by, candidate, done) },
  };
}

// Malt stores of these are not crowded, where plans are made in another way.
const all = (await Promise.all([2, 3, 4, 442, 445, 448, 449].map(exchanged))).filter(({ by }) =>
  !by.evaluator.hurry.crowded
);

describe("runs exchanged in small seasons", () => {
  test("stand together in their vessels, of lots that are awake, with all that is fixed", () => {
    expect(all.length).toBeGreaterThan(4);
    for (const { problem, candidate, candidate: found } of all) {
      const board = new VesselBoard(problem);
      const runs = found?.runs ?? [];
      for (const run of runs) {
        if (!run.fixed) expect(lotFits(problem, run.slot, run.lot)).toBe(true);
        if (!run.fixed) expect(board.fits(run.slot, cropOf(problem, run))).toBe(true);
        board.put(run.slot, cropOf(problem, run));
      }
      const fixed = (list: readonly RunChoice[]) =>
        list.filter((run) => run.fixed).map((run) => run.fixed!.id);
      if (candidate) expect(fixed(runs)).toEqual(fixed(candidate.runs));
    }
  });

  test("pass the auditor, and mostly make as much for less", () => {
    let saved = 0, before = 0, count = 0;
    for (const { season, problem, plan, better } of all) {
      if (!better) continue;
      expect(auditPlan(season, better)).toEqual([]);
      const was = doneBy(problem, plan), is = doneBy(problem, better);
      if (is.some((one, index) => one < was[index]!)) continue;
      count++;
      before += plan.goals.money.runsCents + plan.goals.money.ordersCents;
      saved += plan.goals.moneyCents - better.goals.moneyCents;
    }
    expect(count / all.length).toBeGreaterThan(0.5);
    expect(saved / before).toBeGreaterThan(0.01);
  });
});

test("options are legal beside what is fixed, one for each malt, lot and day, and clash with two runs at most", () => {
  for (const { problem, plan, by } of all.slice(0, 3)) {
    expect(plan.runs.length).toBeGreaterThan(0);
    const { candidate } = plainStart(problem.season);
    const options = runOptions(problem, candidate);
    expect(options.length).toBeGreaterThan(20);
    const names = options.map(({ slot, lot }) => `${slot.malt} ${lot} ${slot.steepDay}`);
    expect(new Set(names).size).toBe(names.length);
    const standing = new Set(candidate.runs.map((run) => `${run.slot.index} ${run.lot}`));
    for (const option of options) {
      expect(standing.has(`${option.slot.index} ${option.lot}`)).toBe(false);
      expect(lotFits(by.problem, option.slot, option.lot)).toBe(true);
      const clashing = candidate.runs.filter((run) => {
        const board = new VesselBoard(problem);
        board.put(run.slot, cropOf(problem, run));
        return !board.fits(option.slot, cropOf(problem, option));
      });
      expect(clashing.some((run) => run.fixed)).toBe(false);
      expect(clashing.length).toBeLessThanOrEqual(2);
    }
  }
});
