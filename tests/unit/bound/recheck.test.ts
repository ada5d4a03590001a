import fc from "fast-check";
import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { boundOfProblem, type PlanBound, recheckBound } from "../../../core/bound/bound.ts";
import { provenBound } from "../../../core/bound/recheck.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { type Problem, problemOf } from "../../../core/search/problem.ts";
import { LinearModel } from "../../../core/solve/linear.ts";
import { loadHighs } from "../../_support/highs.ts";

describe("a bound from dual values", () => {
  /** Least of 2x + 3y with x + y >= 4, x <= 3, 0 <= y <= 5: 3 x 2 + 1 x 3 = 9. */
  function model(): LinearModel {
    const made = new LinearModel();
    made.column(2, 0, 3);
    made.column(3, 0, 5);
    made.row(4, Infinity, [[0, 1], [1, 1]]);
    return made;
  }

  test("is the least cost where the duals are the best", () => {
    expect(provenBound(model(), [2, 3], [[0, 3]])).toBe(9);
  });

  test("is never above the least cost, whatever the duals", () => {
    fc.assert(fc.property(fc.double({ min: -50, max: 50, noNaN: true }), (dual) => {
      expect(provenBound(model(), [2, 3], [[0, dual]])).toBeLessThanOrEqual(9 + 1e-9);
    }));
  });

  test("takes no notice of a dual for an open side, of no number, or of no row", () => {
    for (const dual of [-3, NaN, Infinity]) expect(provenBound(model(), [2, 3], [[0, dual]])).toBe(0);
    expect(provenBound(model(), [2, 3], [[7, 3]])).toBe(0);
  });
});

describe("the recheck of a season's bound", () => {
  // In 2 a count stays open, in 3 all are closed and money is bounded; counts and money are those of the best plan.
  const goals = {
    open: { made: [1, 0, 1], promisesHeld: 2, tailMade: 0, moneyCents: 0 },
    closed: { made: [1, 0, 3], promisesHeld: 4, tailMade: 0, moneyCents: 42019 },
  } as unknown as Record<"open" | "closed", Parameters<typeof boundOfProblem>[2]>;
  let highs: Highs, problem: Problem, bound: PlanBound;
  beforeAll(async () => {
    highs = await loadHighs();
    const season = microSeason(3);
    problem = problemOf(season, season.fixedAsOf ?? season.asOf);
    bound = boundOfProblem(highs, problem, goals.closed)!;
  });

  test("finds the same money, from figures that were written to a file", () => {
    const read = JSON.parse(JSON.stringify(bound)) as PlanBound;
    expect(recheckBound(problem, read).moneyCents).toBe(bound.money!.boundCents);
  });

  test("finds the same counts", () => {
    const season = microSeason(2);
    const other = problemOf(season, season.fixedAsOf ?? season.asOf);
    const found = boundOfProblem(highs, other, goals.open)!;
    const counts = [...found.levels.made, found.levels.promises, found.levels.tail];
    expect(found.money).toBeNull();
    expect(counts.some((one) => one.proof !== null)).toBe(true);
    expect(recheckBound(other, found).levels).toEqual(
      counts.map((one) => one.proof === null ? null : one.bound),
    );
  });

  test("does not believe a claim that its duals do not prove", () => {
    const money = { ...bound.money!, boundCents: bound.money!.boundCents + 1 };
    expect(recheckBound(problem, { ...bound, money }).moneyCents).toBeLessThan(money.boundCents);
  });

  test("proves no more from duals that were tampered with", () => {
    const { proof } = bound.money!;
    for (let place = 0; place < proof.duals.length; place += 7) {
      const duals = proof.duals.map(([row, value], i) => [row, i === place ? 2 * value + 1 : value] as const);
      const again = recheckBound(problem, {
        ...bound,
        money: { ...bound.money!, proof: { ...proof, duals } },
      });
      expect(again.moneyCents).toBeLessThanOrEqual(42019);
    }
  });

  test("builds a cut's row anew, so that a cut cannot say what it likes", () => {
    const { proof } = bound.money!;
    const cuts = proof.cuts.map((cut) =>
      cut.kind === "malt" || cut.kind === "lots" ? { ...cut, step: cut.step * 0.9 } : cut
    );
    try {
      const again = recheckBound(problem, {
        ...bound,
        money: { ...bound.money!, proof: { ...proof, cuts } },
      });
      expect(again.moneyCents).toBeLessThanOrEqual(42019);
    } catch (error) {
      expect(error).toBeInstanceOf(RangeError);
    }
  });

  test("the same season and goals give the same bound, byte for byte", () => {
    expect(JSON.stringify(boundOfProblem(highs, problem, goals.closed))).toBe(JSON.stringify(bound));
  });

  test("gives up when it is asked to", () => {
    expect(boundOfProblem(highs, problem, goals.closed, { cancelled: () => true })).toBeNull();
  });
});
