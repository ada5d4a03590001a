import { leveledModel, type PlanBound } from "../../../core/bound/bound.ts";
import { levelsOf } from "../../../core/bound/levels.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Problem } from "../../../core/search/problem.ts";
import type { LinearModel } from "../../../core/solve/linear.ts";

/**
 * What general solvers get: the weekly model with whole runs, brews, promises and orders, and the plan's counts kept. It leaves out
 * exact days, bins, moves and bag places, so it is easier than the season itself: what a solver finds is not yet a plan, and
 * the season's best plan costs no less than its best point.
 */
export interface Instance {
  readonly model: LinearModel;
  /** Money in cents above the fixed part, of an objective of the model. */
  readonly centsOf: (objective: number) => number;
}

/** The instance of a season whose promises are closed, for the money level. */
export function instanceOf(problem: Problem, plan: Plan, { money }: PlanBound): Instance {
  const { of, levelRow } = leveledModel(problem);
  levelsOf(plan.goals).forEach((count, level) => of.model.rowLower[levelRow + level] = count);
  const fixedCents = money?.fixedCents ?? Math.floor(of.fixedMoney * 100);
  return { model: of.model, centsOf: (objective) => (objective + of.fixedMoney) * 100 - fixedCents };
}
