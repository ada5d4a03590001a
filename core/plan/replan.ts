import type { Highs } from "highs";
import { auditPlan, type Breach } from "../audit/audit.ts";
import { Annealer } from "../search/anneal.ts";
import type { Candidate, RunChoice } from "../search/candidate.ts";
import { compareScores, steeringOf } from "../search/compare.ts";
import { withoutCrowding } from "../search/crowding.ts";
import type { Effort } from "../search/effort.ts";
import { Evaluator, type Score } from "../search/evaluate.ts";
import { fillRuns } from "../search/fill-runs.ts";
import { finish } from "../search/finish.ts";
import { fixedRuns } from "../search/fixed.ts";
import { drawnBefore, loadedAs, type Mended, mendPlan } from "../search/mend.ts";
import { boardOf, signature } from "../search/polish.ts";
import { type Problem, problemOf } from "../search/problem.ts";
import { SlotCache } from "../search/slot-cache.ts";
import { tankBoard } from "../search/tanks.ts";
import { VesselBoard } from "../search/vessels.ts";
import { runKey } from "../search/weigh-near.ts";
import { seasonHash } from "../season/canonical.ts";
import { checkSeason } from "../season/check.ts";
import type { Season } from "../season/season.ts";
import { changedRuns, SAME_LOAD, unrestOf } from "./changed-runs.ts";
import { compareGoals } from "./compare.ts";
import { makePlan, type PlanOutcome } from "./make.ts";
import type { Plan } from "./plan.ts";
import { PROGRAM } from "./program.ts";

export interface ReplanOptions {
  seed: number;
  /** Random changes tried around the mended plan. */
  iterations?: number;
  highs: Highs | null;
  /** Now, for a live farm; a file's `fixedAsOf`, else its `asOf`, when left out. */
  asOf?: string;
  revision?: number;
  /** What is remembered from one re-plan to the next; the result is the same without it. */
  cache?: ReplanCache;
  cancelled?: () => boolean;
}

/** What a worker keeps between the edits of one season. */
export class ReplanCache {
  readonly slots = new SlotCache();
}

/** Changes tried after an edit. */
export const REPLAN_ITERATIONS = 200;
/** Candidates counted to make good what an edit has cost. */
const FILL_TRIES = 24;
/** Choices at each fill of a store, as the search has them. */
const BREADTH = 3;
/** What is put into each candidate: as little as is seldom regretted. */
const QUICK: Omit<Effort, "near"> = {
  breadth: BREADTH,
  last: 4,
  usual: true,
  rooms: [1, 0.85, 0.7],
  drops: 12,
  whole: false,
};
/** Batches to either side of the one in turn that a line may draw from. */
const REACH = 2;

/**
 * A plan near at hand after an edit: what of the accepted plan `from` still stands, mended where it no longer does, and improved by a few
 * changes, each changed run at its stated price. Audited, never worse in its counts than the accepted plan as it still stands, and the
 * same for the same season, plan, seed and iterations. An unchanged season keeps its plan.
 */
export async function replan(season: Season, from: Plan, options: ReplanOptions): Promise<PlanOutcome> {
  const asOf = options.asOf ?? season.fixedAsOf ?? season.asOf;
  const { findings } = checkSeason(season, { asOf });
  if (findings.some((finding) => finding.level === "error")) return { kind: "cannot", findings };
  const hash = await seasonHash({ ...season, asOf });
  const revision = options.revision ?? 0;
  if (from.seasonHash === hash && from.asOf === asOf) {
    const same = { ...from, revision };
    if (auditPlan(season, same).length === 0) return planned(same);
  }

  const head = {
    format: "rickyard-plan",
    version: 1,
    seasonId: season.id,
    seasonHash: hash,
    revision,
    asOf,
    seed: options.seed,
    iterations: options.iterations ?? REPLAN_ITERATIONS,
    program: PROGRAM,
    stoppedEarly: false,
    against: { seasonHash: from.seasonHash, revision: from.revision, asOf: from.asOf },
  } as const;
  const problem = problemOf(season, asOf, options.cache?.slots);
  const tanks = tankBoard(problem);
  const evaluator = new Evaluator(problem, problem.booked.changes);
  const { fixed, refused } = fixedRuns(problem, new VesselBoard(problem));
  const fixedChoices = fixed.map((one): RunChoice => ({
    slot: one.slot,
    lot: one.draws[0]?.lot ?? 0,
    lot2: -1,
    fixed: one,
  }));
  const mended = mendPlan(problem, tanks, fixedChoices, from);
  const start = startOf(problem, evaluator, mended, from);
  const near = {
    drawG: new Map(
      [...mended.as].map(([choice, run]) => [runKey(choice), drawnBefore(problem, choice, run)]),
    ),
    made: new Map(from.brews.map((brew) => [brew.id, brew.promiseHeld ? 2 : 1])),
    changedCents: season.costs.changedRunCents,
    reach: REACH,
    sameLoad: SAME_LOAD,
  };
  const effort: Effort = { ...QUICK, near };
  const planOf = (candidate: Candidate): Kept => {
    const body = finish({ problem, evaluator, highs: options.highs, tanks, refused, effort }, candidate);
    return keptOf(season, from, priced(season, from, { ...head, ...body }));
  };

  const found = searchAround(problem, evaluator, start, tanks, mended, options);
  let best = planOf(found);
  const isStart = signature(found) === signature(start);
  if (
    !isStart && (best.breaches.length > 0 || countsLess(best.plan, evaluator.evaluate(start, BREADTH).score))
  ) {
    best = better(best, planOf(start));
  }
  // The accepted plan to the letter, where it may stand as it is.
  const letter = { ...from, ...head, goals: withoutChanges(from.goals) };
  if (best.breaches.length > 0 || isBetter(letter.goals, 0, best)) {
    best = better(best, keptOf(season, from, letter));
  }
  if (best.breaches.length === 0) return planned(best.plan);
  const { cache: _, ...rest } = options;
  return await makePlan(season, { ...rest, asOf, iterations: 0, from });
}

function planned(plan: Plan): PlanOutcome {
  return { kind: "planned", plan, breaches: [], setAside: [] };
}

/** The mended plan with runs for what it no longer makes; where the malt store would overflow, with the loads it had. */
function startOf(problem: Problem, evaluator: Evaluator, { candidate, as }: Mended, from: Plan): Candidate {
  let start = candidate;
  if (evaluator.evaluate(candidate, 1).firstDayOver !== null) {
    evaluator.hurry.crowded = true;
    const runs = candidate.runs.map((choice) => {
      const run = as.get(choice);
      return run ? loadedAs(problem, choice, run) : choice;
    });
    start = withoutCrowding(evaluator, { runs, day: candidate.day });
  }
  const left = new Set([...from.unbrewed.map((one) => one.id), ...from.unsold.map((one) => one.contractId)]);
  const isNew = ({ id }: { id: string }) => !left.has(id);
  return fillRuns(problem, evaluator, start, { tries: FILL_TRIES, breadth: BREADTH, isNew });
}

/** A short search around a candidate that pays for every run that is otherwise than in the accepted plan. */
function searchAround(
  problem: Problem,
  evaluator: Evaluator,
  start: Candidate,
  tanks: ReturnType<typeof tankBoard>,
  { as }: Mended,
  { seed, iterations = REPLAN_ITERATIONS, cancelled }: ReplanOptions,
): Candidate {
  if (iterations === 0) return start;
  const price = problem.season.costs.changedRunCents;
  const accepted = new Set([...as.keys()].map(runKey));
  const extraCents = ({ runs }: Candidate) => {
    let kept = 0, free = 0;
    for (const run of runs) {
      if (run.fixed) continue;
      free++;
      if (accepted.has(runKey(run))) kept++;
    }
    return price * Math.max(accepted.size - kept, free - kept);
  };
  const steering = steeringOf(problem, evaluator.markets.map((market) => market.centsPerExtractG));
  return new Annealer(problem, evaluator, boardOf(problem, start), tanks, start, {
    seed,
    iterations,
    steering,
    extraCents,
    ...(cancelled ? { cancelled } : {}),
  }).run().candidate;
}

interface Kept {
  plan: Plan;
  breaches: Breach[];
  /** Runs otherwise than in the accepted plan, and what that costs beyond the plan's own money. */
  stirCents: number;
}

function keptOf(season: Season, from: Plan, plan: Plan): Kept {
  const stirred = unrestOf(changedRuns(from, plan)) * season.costs.changedRunCents;
  return {
    plan,
    breaches: auditPlan(season, plan),
    stirCents: stirred - plan.goals.money.changedRunsCents,
  };
}

/** The plan with its changed runs in its money. */
function priced(season: Season, from: Plan, plan: Plan): Plan {
  const changedRunsCents = changedRuns(from, plan).moved.length * season.costs.changedRunCents;
  const { goals } = plan;
  return {
    ...plan,
    goals: {
      ...goals,
      moneyCents: goals.moneyCents + changedRunsCents,
      money: { ...goals.money, changedRunsCents },
    },
  };
}

function withoutChanges(goals: Plan["goals"]): Plan["goals"] {
  return {
    ...goals,
    moneyCents: goals.moneyCents - goals.money.changedRunsCents,
    money: { ...goals.money, changedRunsCents: 0 },
  };
}

/** Fewer breaches first, then the goals in order; runs that came or went count in the money as those that moved do. */
function better(a: Kept, b: Kept): Kept {
  if (a.breaches.length !== b.breaches.length) return a.breaches.length < b.breaches.length ? a : b;
  return isBetter(b.plan.goals, b.stirCents, a) ? b : a;
}

function isBetter(goals: Plan["goals"], stirCents: number, than: Kept): boolean {
  const full = (of: Plan["goals"], stir: number) => ({ ...of, moneyCents: of.moneyCents + stir });
  return compareGoals(full(goals, stirCents), full(than.plan.goals, than.stirCents)) < 0;
}

/** Whether a plan makes or keeps less than was counted on. */
function countsLess({ goals }: Plan, score: Score): boolean {
  const counted: Score = {
    made: [...goals.made, goals.tailMade],
    promises: goals.promisesHeld,
    moneyCents: 0,
    broken: 0,
  };
  return compareScores(counted, { ...score, moneyCents: 0, broken: 0 }) > 0;
}
