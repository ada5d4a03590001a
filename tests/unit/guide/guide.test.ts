import fc from "fast-check";
import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { leveledModel } from "../../../core/bound/bound.ts";
import { withStandingModel } from "../../../core/solve/standing.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { dive } from "../../../core/guide/dive.ts";
import { guidedStart } from "../../../core/guide/guide.ts";
import { placeRuns } from "../../../core/guide/place.ts";
import { type Aim, weeklyRuns } from "../../../core/guide/weekly.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { type Candidate, cropOf, lotFits } from "../../../core/search/candidate.ts";
import { finish } from "../../../core/search/finish.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";
import type { Season } from "../../../core/season/season.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";
import { loadHighs } from "../../_support/highs.ts";
import { plainStart } from "../search/_plain-start.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** A season with its plan without a search. */
async function planned(season: Season) {
  const { candidate, ...by } = plainStart(season);
  const plan = await planOf(season, by, candidate);
  return { ...by, candidate, plan };
}

async function planOf(
  season: Season,
  by: Omit<Parameters<typeof finish>[0], "highs">,
  candidate: Candidate,
): Promise<Plan> {
  return { ...await emptyPlan(season), ...finish({ ...by, highs }, candidate) };
}

/** To come to these counts for the least money. */
function as(goals: Plan["goals"]): Aim {
  return { goals, at: "these" };
}

/** Runs that the lots' clocks or the vessels beside the runs before them do not allow. */
function illegal(problem: Problem, { runs }: Candidate): number[] {
  const board = new VesselBoard(problem);
  return runs.flatMap((run, i) => {
    const fits = run.fixed ||
      (lotFits(problem, run.slot, run.lot) && board.fits(run.slot, cropOf(problem, run)));
    board.put(run.slot, cropOf(problem, run));
    return fits ? [] : [i];
  });
}

describe("runs of weeks are placed", () => {
  test("where clocks and vessels allow, within three weeks, whatever is asked", () => {
    const { problem, candidate } = plainStart(makeSeason("small", 3));
    const lots = problem.lots.length, weeks = Math.ceil((problem.endDay - problem.freeDay) / 7);
    const week = fc.record({
      malt: fc.nat(problem.maltCount - 1),
      from: fc.nat(weeks).map((one) => problem.freeDay + 7 * one),
      count: fc.integer({ min: 1, max: 4 }),
      draws: fc.array(
        fc.record({ lot: fc.nat(lots - 1), massT: fc.double({ min: 0, max: 3, noNaN: true }) }),
        {
          minLength: 1,
          maxLength: 3,
        },
      ),
    });
    fc.assert(
      fc.property(fc.array(week, { maxLength: 40 }), fc.boolean(), (asked, partLoads) => {
        const placed = placeRuns(
          problem,
          { runs: asked, substituted: candidate.substituted },
          candidate,
          partLoads,
        );
        expect(illegal(problem, placed)).toEqual([]);
        for (const { slot, lot, fixed, loadShare = 1 } of placed.runs) {
          if (fixed) continue;
          const near = asked.some((one) =>
            one.malt === slot.malt && one.draws.some((draw) => draw.lot === lot) &&
            slot.steepDay >= one.from - 21 && slot.steepDay < one.from + 28
          );
          expect([near, loadShare >= 0 && loadShare <= 1]).toEqual([true, true]);
        }
      }),
      { numRuns: 60 },
    );
  });

  test("as many as are asked for where there is room", () => {
    const { problem, candidate } = plainStart(makeSeason("small", 3));
    const slot = problem.slots.find((one) => problem.lots.some((lot) => lotFits(problem, one, lot.index)))!;
    const lot = problem.lots.find((one) => lotFits(problem, slot, one.index))!.index;
    const asked = [{ malt: slot.malt, from: slot.steepDay, count: 2, draws: [{ lot, massT: 1 }] }];
    const bare = { ...candidate, runs: [] };
    expect(
      placeRuns(problem, { runs: asked, substituted: candidate.substituted }, bare, false).runs.map((run) =>
        run.lot
      ),
    ).toEqual([lot, lot]);
  });
});

describe("the weekly model in whole numbers", () => {
  test("has whole counts of all runs, and costs no less than the model in parts", async () => {
    const { problem, plan } = await planned(makeSeason("small", 3));
    const { of, levelRow } = leveledModel(problem);
    [...plan.goals.made, plan.goals.promisesHeld, plan.goals.tailMade].forEach((count, level) =>
      of.model.rowLower[levelRow + level] = count
    );
    const { cost } = of.model;
    const costOf = (values: Float64Array) =>
      cost.reduce((sum, one, i) => sum + one * (values[i] as number), 0);
    withStandingModel(highs, of.model, (lp) => {
      const least = costOf(lp.solve(cost)!.values);
      const values = dive(of, lp)!;
      for (const { count } of of.runs) {
        const value = values[count] as number;
        expect(Math.abs(value - Math.round(value))).toBeLessThan(1e-5);
      }
      expect(costOf(values)).toBeGreaterThanOrEqual(least - 1e-6);
    });
  });

  test("is the same the second time, and nothing where no plan counts so much", async () => {
    const { problem, plan } = await planned(makeSeason("small", 6));
    const first = weeklyRuns(highs, problem, as(plan.goals), 0);
    expect(first!.runs.length).toBeGreaterThan(0);
    expect(weeklyRuns(highs, problem, as(plan.goals), 0)).toEqual(first);
    const more = { ...plan.goals, promisesHeld: problem.demands.length + 1 };
    expect(weeklyRuns(highs, problem, as(more), 0)).toBeNull();
  });
});

test("variants of the weekly model differ, each the same the second time, and each keeps the counts", async () => {
  const { problem, plan } = await planned(makeSeason("small", 6));
  const all = [0, 1, 2, 3].map((variant) => weeklyRuns(highs, problem, as(plan.goals), variant)!);
  expect(new Set(all.map((one) => JSON.stringify(one.runs))).size).toBeGreaterThan(1);
  expect(weeklyRuns(highs, problem, as(plan.goals), 3)).toEqual(all[3]);
  const more = { ...plan.goals, promisesHeld: problem.demands.length + 1 };
  expect(weeklyRuns(highs, problem, as(more), 3)).toBeNull();
});

describe("aimed higher", () => {
  test("the weekly model makes or keeps one more of the first goal that can be raised, as long as one can", async () => {
    const { problem, plan } = await planned(makeSeason("small", 6));
    const { goals } = plan;
    expect(goals.made).toEqual(goals.asked);
    const aimed = (promisesHeld: number) => ({ goals: { ...goals, promisesHeld }, at: "one more" as const });
    const asked = problem.demands.filter((one) => one.kind === "brew" && one.class < 4).length;
    expect(weeklyRuns(highs, problem, aimed(asked), 0)).toBeNull();
    const most = Array.from({ length: asked }, (_, i) => asked - 1 - i)
      .find((promises) => weeklyRuns(highs, problem, aimed(promises), 0) !== null)!;
    // What it finds with one more it also finds when that is asked for.
    expect(most + 1).toBeGreaterThanOrEqual(goals.promisesHeld);
    expect(weeklyRuns(highs, problem, aimed(most), 0)).toEqual(
      weeklyRuns(highs, problem, as({ ...goals, made: goals.made, promisesHeld: most + 1, tailMade: 0 }), 0),
    );
  });

  test("gives up a later goal for an earlier one", async () => {
    const { problem, plan } = await planned(makeSeason("small", 6));
    const [one, two, three] = plan.goals.made;
    const short = { ...plan.goals, made: [one - 1, two, three] as typeof plan.goals.made, promisesHeld: 999 };
    expect(weeklyRuns(highs, problem, { goals: short, at: "one more" }, 0)).not.toBeNull();
    expect(weeklyRuns(highs, problem, as(short), 0)).toBeNull();
  });

  test("leaves goals behind it as they come, or has as much of them as it can", async () => {
    const { problem, plan } = await planned(makeSeason("small", 6));
    const [one, two, three] = plan.goals.made;
    const goals = {
      ...plan.goals,
      made: [one - 1, two, three] as typeof plan.goals.made,
      ...{ promisesHeld: 0, tailMade: 0 },
    };
    const runsAt = (at: Aim["at"]) =>
      weeklyRuns(highs, problem, { goals, at }, 0)!.runs.reduce((sum, { count }) => sum + count, 0);
    expect(runsAt("one more")).toBeGreaterThan(runsAt("one more alone"));
    expect(runsAt("most")).toBeGreaterThan(runsAt("these"));
  });
});

describe("a guided start", () => {
  test.each([["micro", 6], ["micro", 24], ["small", 1], ["small", 3], ["small", 5], ["small", 6]] as const)(
    "%s season %i: legal, and its plan is audited clean",
    async (size, seed) => {
      const season = makeSeason(size, seed);
      const { candidate, plan, ...by } = await planned(season);
      const { problem, evaluator } = by;
      const guided = guidedStart(highs, evaluator, candidate, as(plan.goals), 0)!;
      expect(illegal(problem, guided)).toEqual([]);
      expect(auditPlan(season, await planOf(season, by, guided)).map((one) => one.message)).toEqual([]);
    },
  );

  test("saves money that the plan without a search spends", async () => {
    const season = makeSeason("small", 3);
    const { candidate, plan, ...by } = await planned(season);
    const guided = guidedStart(highs, by.evaluator, candidate, as(plan.goals), 0)!;
    const { goals } = await planOf(season, by, guided);
    expect(goals.made).toEqual(plan.goals.made);
    expect(goals.moneyCents).toBeLessThan(plan.goals.moneyCents);
  });
});
