import type { Candidate } from "../search/candidate.ts";
import { compareScores } from "../search/compare.ts";
import { withoutCrowding } from "../search/crowding.ts";
import type { DateBoard } from "../search/dates.ts";
import type { Evaluator } from "../search/evaluate.ts";
import { fixedRuns, type Refusal } from "../search/fixed.ts";
import { naivePlan } from "../search/naive.ts";
import type { Demand, Problem } from "../search/problem.ts";
import { sparingPlan } from "../search/sparing.ts";
import { VesselBoard } from "../search/vessels.ts";
import type { Kept } from "./kept.ts";
import type { Plan } from "./plan.ts";

const MANY_DEMANDS = 250;
const VAST_DEMANDS = 1000;
const SMALL_LINES = 24;
const SMALL_SLOTS = 80;

/** The plan without a search, and the bookings that cannot be kept. */
export function startOf(
  problem: Problem,
  evaluator: Evaluator,
  dates: DateBoard,
): { candidate: Candidate; refused: Refusal[] } {
  const board = new VesselBoard(problem);
  const { fixed, refused } = fixedRuns(problem, board);
  return { candidate: withoutCrowding(evaluator, naivePlan(problem, fixed, board, dates)), refused };
}

/** Where the search starts: the naive plan, unless the malt store is crowded and a plan of small, late runs, not tried for large farms, does better. */
export function searchFrom(
  problem: Problem,
  evaluator: Evaluator,
  naive: Candidate,
  day: Int32Array,
): Candidate {
  if (!evaluator.hurry.crowded || isMany(problem)) return naive;
  const sparing = sparingPlan(problem, evaluator, naive.runs.filter((run) => run.fixed), day.slice());
  const score = (candidate: Candidate) => evaluator.evaluate(candidate, 1).score;
  return compareScores(score(sparing), score(naive)) < 0 ? sparing : naive;
}

/** Only what is under way or booked. */
export function bareOf(problem: Problem, { runs, day, substituted }: Candidate): Candidate {
  return {
    substituted,
    runs: runs.filter((run) => run.fixed),
    day: day.map((one, demand) => problem.demands[demand]?.booked ? one : -1),
  };
}

/** The candidate without the days of brews that its plan does not make; null where it makes all that have one. */
export function madeAlone({ demands }: Problem, { candidate, plan }: Kept): Candidate | null {
  const made = new Set(plan.brews.map((brew) => brew.id));
  const day = candidate.day.map((on, demand) => {
    const { kind, id, booked } = demands[demand] as Demand;
    return kind === "brew" && !booked && !made.has(id) ? -1 : on;
  });
  return day.every((on, demand) => on === candidate.day[demand]) ? null : { ...candidate, day };
}

/** Whether all that is asked for inside the horizon is made, with every promise. */
export function isFull({ demands }: Problem, { goals, brews }: Plan): boolean {
  const tail = new Set(demands.filter((one) => one.class === 4).map((one) => one.id));
  return goals.made.every((count, of) => count >= (goals.asked[of] as number)) &&
    brews.every((brew) => brew.promiseHeld || tail.has(brew.id));
}

/** Small enough to be weighed exactly many times. */
export function isSmall(problem: Problem): boolean {
  const lines = problem.demands.reduce((sum, demand) => sum + demand.lines.length, 0);
  return lines <= SMALL_LINES && problem.slots.length <= SMALL_SLOTS;
}

/** So large that the weekly model, or a plan of small, late runs, takes longer than it saves. */
export function isMany(problem: Problem): boolean {
  return problem.demands.length > MANY_DEMANDS;
}

/** So large that a look at the whole year for each brew takes minutes. */
export function isVast(problem: Problem): boolean {
  return problem.demands.length > VAST_DEMANDS;
}
