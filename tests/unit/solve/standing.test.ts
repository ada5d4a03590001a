/** A model that stays in the solver, where the solver fails by itself. */
import type { Highs } from "highs";
import { expect, test } from "vitest";
import { withStandingModel } from "../../../core/solve/standing.ts";
import { LinearModel } from "../../../core/solve/linear.ts";

const FAILED = "run failed with HiGHS status -1";

/** A solver whose runs end as `ends` says, one after the other: with an answer, or with this message. */
function solverThat(ends: readonly ("answers" | string)[]): { highs: Highs; cleared: () => number } {
  let at = 0, cleared = 0;
  const solver = {
    options: { set: () => {} },
    changeColsCost: () => {},
    run: () => {
      const end = ends[at++];
      if (end !== "answers") throw new Error(end);
    },
    clearSolver: () => cleared++,
    getModelStatus: () => 7,
    getSolution: () => ({ colValue: Float64Array.of(3), rowDual: Float64Array.of() }),
  };
  const highs = {
    infinity: Infinity,
    constants: { modelStatus: { optimal: 7 } },
    withModel: (_: unknown, work: (of: typeof solver) => unknown) => work(solver),
  } as unknown as Highs;
  return { highs, cleared: () => cleared };
}

function solved(highs: Highs): number | undefined {
  const model = new LinearModel();
  model.column(1, 0, 3);
  return withStandingModel(highs, model, (lp) => lp.solve([1])?.values[0]);
}

test("it begins once more from nothing, and only then has no answer", () => {
  const once = solverThat([FAILED, "answers"]);
  expect(solved(once.highs)).toBe(3);
  expect(once.cleared()).toBe(1);
  expect(solved(solverThat([FAILED, FAILED]).highs)).toBeUndefined();
});

test("any other fault is passed on", () => {
  expect(() => solved(solverThat(["torn apart"]).highs)).toThrow("torn apart");
});
