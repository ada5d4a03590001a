import { Evaluator } from "../../../../core/search/evaluate.ts";
import { dateBrews } from "../../../../core/search/dates.ts";
import { fixedRuns } from "../../../../core/search/fixed.ts";
import { naivePlan } from "../../../../core/search/naive.ts";
import { problemOf } from "../../../../core/search/problem.ts";
import { tankBoard } from "../../../../core/search/tanks.ts";
import { VesselBoard } from "../../../../core/search/vessels.ts";
import { limitLoads } from "../../../../core/search/weigh-loads.ts";
import { startWeighing } from "../../../../core/search/weighing.ts";
import type { Season } from "../../../../core/season/season.ts";
import type { LinearModel } from "../../../../core/solve/linear.ts";

/**
 * The allocation model the planner builds for a season's naive plan, loads free and the malt store thinned to `room`. `whole`
 * builds it with whole packs, brews and places, as for a small season.
 */
export function allocationModel(
  season: Season,
  { whole, room }: { whole: boolean; room: number },
): LinearModel {
  const problem = problemOf(season, season.fixedAsOf ?? season.asOf);
  const tanks = tankBoard(problem);
  const board = new VesselBoard(problem);
  const { fixed } = fixedRuns(problem, board);
  const evaluator = new Evaluator(problem, problem.booked.changes);
  const candidate = naivePlan(problem, fixed, board, dateBrews(problem, tanks));
  const evaluation = evaluator.evaluate(candidate, 3);
  const { runs, day } = candidate;
  const input = { problem, evaluator, evaluation, runs, day, tanks };
  const nothingLost = new Float64Array(problem.lots.length);
  return startWeighing(
    input,
    whole,
    { room, tightDays: [], near: null, padded: new Set(), chooses: false },
    (model) => limitLoads(model, problem, evaluation, runs, nothingLost, false, null),
  ).model;
}

/** The model with every whole-number column let go. */
export function relaxed(model: LinearModel): LinearModel {
  model.integer.fill(0);
  return model;
}
