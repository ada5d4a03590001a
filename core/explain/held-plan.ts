import { byStart, type Candidate, cropOf, type RunChoice } from "../search/candidate.ts";
import { dateBrews } from "../search/dates.ts";
import { Evaluator } from "../search/evaluate.ts";
import { fixedRuns } from "../search/fixed.ts";
import { candidateFrom } from "../search/from-plan.ts";
import { boardOf } from "../search/polish.ts";
import { type Problem, problemOf } from "../search/problem.ts";
import { tankBoard } from "../search/tanks.ts";
import { VesselBoard } from "../search/vessels.ts";
import { instant } from "../zone.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";

/** A plan as the search sees it, to try changes of one run while all else is held. */
export interface HeldPlan {
  readonly problem: Problem;
  readonly evaluator: Evaluator;
  readonly board: VesselBoard;
  readonly candidate: Candidate;
  /** Free runs with the plan's own names for them. */
  readonly free: readonly { readonly run: PlanRun; readonly choice: RunChoice }[];
}

/** Reads a plan back into the search, each run with the load that it has in the plan. */
export function heldPlan(season: Season, plan: Plan): HeldPlan {
  const problem = problemOf(season, plan.asOf);
  const tanks = tankBoard(problem);
  const { fixed } = fixedRuns(problem, new VesselBoard(problem));
  const choices = fixed.map((one): RunChoice => ({
    slot: one.slot,
    lot: one.draws[0]?.lot ?? 0,
    lot2: -1,
    fixed: one,
  }));
  const full = candidateFrom(problem, tanks, choices, dateBrews(problem, tanks).day, plan);
  const known = new Map(plan.runs.map((run) => [keyOf(season, run), run]));
  const free: { run: PlanRun; choice: RunChoice }[] = [];
  const runs = full.runs.map((choice) => {
    const run = known.get(keyOfChoice(problem, choice));
    if (run === undefined || choice.fixed) return choice;
    const loaded = { ...choice, loadShare: loadShare(problem, choice, run) };
    free.push({ run, choice: loaded });
    return loaded;
  }).sort(byStart);
  const candidate = { ...full, runs };
  return {
    problem,
    evaluator: new Evaluator(problem, problem.booked.changes),
    board: boardOf(problem, candidate),
    candidate,
    free,
  };
}

/** How far the plan loads a run between the least and the most its vessels take. */
function loadShare(problem: Problem, choice: RunChoice, run: PlanRun): number {
  const crop = cropOf(problem, choice);
  const least = choice.slot.leastG[crop] as number, most = choice.slot.greatestG[crop] as number;
  return most <= least ? 1 : Math.min(1, Math.max(0, (run.cleanG - least) / (most - least)));
}

function keyOf({ zone }: Season, run: PlanRun): string {
  const { steep, bed, kiln } = run.vesselIds;
  return `${instant(zone, run.steepInAt)} ${run.maltId} ${steep} ${bed} ${kiln}`;
}

function keyOfChoice({ season, materials }: Problem, { slot }: RunChoice): string {
  const vessels = slot.vessels.map((index) => season.vessels[index]?.id ?? "");
  return `${slot.times[0]} ${materials[slot.malt]?.maltId} ${vessels.join(" ")}`;
}
