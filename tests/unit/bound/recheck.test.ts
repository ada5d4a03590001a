import fc from "fast-check";
import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { boundOfProblem, type PlanBound, recheckBound } from "../../../core/bound/bound.ts";
import type { Proof } from "../../../core/bound/proof.ts";
import type { ProofTree } from "../../../core/bound/tree.ts";
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

/** A proof with each case changed. */
function changed(tree: ProofTree, change: (proof: Proof) => Proof): ProofTree {
  return "total" in tree
    ? { ...tree, below: changed(tree.below, change), above: changed(tree.above, change) }
    : change(tree);
}

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

  const rechecked = (money: Partial<NonNullable<PlanBound["money"]>>) =>
    recheckBound(problem, { ...bound, money: { ...bound.money!, ...money } }).moneyCents;

  test("proves no more from duals that were tampered with", () => {
    for (let place = 0; place < 300; place += 20) {
      const proof = changed(bound.money!.proof, (one) => ({
        ...one,
        duals: one.duals.map(([row, value], i) => [row, i === place ? 2 * value + 1 : value] as const),
      }));
      expect(rechecked({ proof })).toBeLessThanOrEqual(goals.closed.moneyCents);
    }
  });

  test("sees when duals that matter are changed", () => {
    const proof = changed(bound.money!.proof, (one) => ({
      ...one,
      duals: one.duals.map(([row, value]) => [row, value * 1.5] as const),
    }));
    expect(rechecked({ proof })).toBeLessThan(bound.money!.boundCents);
  });

  test("builds a cut's row anew, so that a cut cannot say what it likes", () => {
    const proof = changed(bound.money!.proof, (one) => ({
      ...one,
      cuts: one.cuts.map((cut) =>
        cut.kind === "malt" || cut.kind === "lots" ? { ...cut, step: cut.step * 1.1 } : cut
      ),
    }));
    try {
      expect(rechecked({ proof })).toBeLessThanOrEqual(goals.closed.moneyCents);
    } catch (error) {
      expect(error).toBeInstanceOf(RangeError);
    }
  });

  test("takes the least of all cases", () => {
    const { proof } = bound.money!;
    // In the second case nothing is proved but what costs come to at their least.
    const split = { total: 0, at: 3, below: proof, above: { cuts: [], duals: [] } };
    expect(rechecked({ proof: split })).toBeLessThan(bound.money!.boundCents);
    expect(rechecked({ proof: { ...split, above: proof } })).toBeGreaterThanOrEqual(bound.money!.boundCents);
  });

  test("the same season and goals give the same bound, byte for byte", () => {
    expect(JSON.stringify(boundOfProblem(highs, problem, goals.closed))).toBe(JSON.stringify(bound));
  });

  test("gives up when it is asked to", () => {
    expect(boundOfProblem(highs, problem, goals.closed, { cancelled: () => true })).toBeNull();
  });
});
