import { withoutCrowding } from "../../../core/search/crowding.ts";
import { dateBrews } from "../../../core/search/dates.ts";
import { Evaluator } from "../../../core/search/evaluate.ts";
import { fixedRuns } from "../../../core/search/fixed.ts";
import { naivePlan } from "../../../core/search/naive.ts";
import { boardOf } from "../../../core/search/polish.ts";
import { problemOf } from "../../../core/search/problem.ts";
import { tankBoard } from "../../../core/search/tanks.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";
import type { Season } from "../../../core/season/season.ts";

/** What a plan is made of before any search: the problem and the plan a careful person makes without looking ahead. */
export function plainStart(season: Season) {
  const problem = problemOf(season, season.asOf), tanks = tankBoard(problem);
  const evaluator = new Evaluator(problem, problem.booked.changes);
  const dates = dateBrews(problem, tanks), taken = new VesselBoard(problem);
  const { fixed, refused } = fixedRuns(problem, taken);
  const candidate = withoutCrowding(evaluator, naivePlan(problem, fixed, taken, dates));
  return { problem, tanks, evaluator, candidate, refused, board: boardOf(problem, candidate) };
}
