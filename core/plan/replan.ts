import type { Highs } from "highs";
import { auditPlan } from "../audit/audit.ts";
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
import { boardOf } from "../search/polish.ts";
import { type Problem, problemOf } from "../search/problem.ts";
import { SlotCache } from "../search/slot-cache.ts";
import { pushRuns } from "../search/push-runs.ts";
import { tankBoard } from "../search/tanks.ts";
import { VesselBoard } from "../search/vessels.ts";
import { runKey } from "../search/weigh-near.ts";
import { seasonHash } from "../season/canonical.ts";
import { checkSeason } from "../season/check.ts";
import type { Season } from "../season/season.ts";
import { changedRuns, SAME_LOAD, unrestOf } from "./changed-runs.ts";
import { compareGoals } from "./compare.ts";
import { makePlan } from "./make.ts";
import type { PlanOutcome } from "./options.ts";
import type { Plan } from "./plan.ts";
import { PROGRAM } from "./program.ts";

export interface ReplanOptions {
  seed: number;
  /** Random changes tried around the mended plan, where an edit has cost a brew or a promise. */
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

/** Changes tried where an edit has cost a brew or a promise. */
export const REPLAN_ITERATIONS = 60;
/** Candidates counted to make good what an edit has cost: with runs pushed on, and with more runs. */
const PUSH_TRIES = 8;
const FILL_TRIES = 16;
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
  orders: null,
  padded: new Set(),
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
  const planOf = (candidate: Candidate) => {
    const body = finish({ problem, evaluator, highs: options.highs, tanks, refused, effort }, candidate);
    return optionOf(season, from, { ...head, ...body });
  };
  const first = planOf(start);
  const plans = [first];
  if (mayStand(problem, from, mended)) {
    plans.push(optionOf(season, from, { ...from, ...head, goals: withoutChanges(from.goals) }));
  }
  if (isLess(first.plan, from, problem)) {
    const found = searchAround(problem, evaluator, start, tanks, mended, options);
    if (found) plans.push(planOf(found));
  }
  for (const { plan } of plans.sort(byGoals)) if (auditPlan(season, plan).length === 0) return planned(plan);
  const { cache: _, ...rest } = options;
  return await makePlan(season, { ...rest, asOf, iterations: 0, from });
}

function planned(plan: Plan): PlanOutcome {
  return { kind: "planned", plan, breaches: [], setAside: [] };
}

/** The mended plan with runs for what it no longer makes; where the malt store would overflow, with the loads it had. */
function startOf(
  problem: Problem,
  evaluator: Evaluator,
  { candidate, as, homeless }: Mended,
  from: Plan,
): Candidate {
  const runs = candidate.runs.map((choice) => {
    const run = as.get(choice);
    return run ? loadedAs(problem, choice, run) : choice;
  });
  let start = withoutCrowding(evaluator, { ...candidate, runs });
  const left = new Set([...from.unbrewed.map((one) => one.id), ...from.unsold.map((one) => one.contractId)]);
  const isNew = ({ id }: { id: string }) => !left.has(id);
  const changeCents = problem.season.costs.changedRunCents;
  start = pushRuns(problem, evaluator, start, homeless, { changeCents, breadth: BREADTH, tries: PUSH_TRIES });
  return fillRuns(problem, evaluator, start, { tries: FILL_TRIES, breadth: BREADTH, isNew });
}

/**
 * A short search around a candidate that pays for every run that is otherwise than in the accepted plan: one that makes or keeps more,
 * or null.
 */
function searchAround(
  problem: Problem,
  evaluator: Evaluator,
  start: Candidate,
  tanks: ReturnType<typeof tankBoard>,
  { as }: Mended,
  { seed, iterations = REPLAN_ITERATIONS, cancelled }: ReplanOptions,
): Candidate | null {
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
  const found = new Annealer(problem, evaluator, boardOf(problem, start), tanks, start, {
    seed,
    iterations,
    steering,
    substitutes: false,
    extraCents,
    ...(cancelled ? { cancelled } : {}),
  }).run();
  const counts = (score: Score) => ({ ...score, moneyCents: 0 });
  const before = evaluator.evaluate(start, BREADTH).score;
  return compareScores(counts(found.score), counts(before)) < 0 ? found.candidate : null;
}

/** Whether the accepted plan may stand to the letter: its runs still do, and what is asked is what was asked. */
function mayStand({ demands }: Problem, from: Plan, { as }: Mended): boolean {
  const free = from.runs.filter((run) => run.standing === "not booked").length;
  const answered = new Set([
    ...[...from.brews, ...from.unbrewed].map((one) => one.id),
    ...[...from.maltDeliveries, ...from.unsold].map((one) => one.contractId),
  ]);
  return as.size >= free && demands.every(({ id }) => answered.has(id));
}

/** A plan with what its changes cost beyond its own money: runs that came or went cost as much as those that moved. */
interface Option {
  plan: Plan;
  stirCents: number;
}

/** The plan with its changed runs in its money. */
function optionOf(season: Season, from: Plan, plan: Plan): Option {
  const price = season.costs.changedRunCents;
  const changes = changedRuns(from, plan);
  const changedRunsCents = changes.moved.length * price;
  const { goals } = plan;
  const moneyCents = goals.moneyCents + changedRunsCents;
  return {
    plan: { ...plan, goals: { ...goals, moneyCents, money: { ...goals.money, changedRunsCents } } },
    stirCents: unrestOf(changes) * price - changedRunsCents,
  };
}

function withoutChanges(goals: Plan["goals"]): Plan["goals"] {
  return {
    ...goals,
    moneyCents: goals.moneyCents - goals.money.changedRunsCents,
    money: { ...goals.money, changedRunsCents: 0 },
  };
}

/** The goals in order, changes counted in the money. */
function byGoals(a: Option, b: Option): number {
  const goals = ({ plan, stirCents }: Option) => ({
    ...plan.goals,
    moneyCents: plan.goals.moneyCents + stirCents,
  });
  return compareGoals(goals(a), goals(b));
}

/** Whether something is not made that is new or was made before, or a promise not held that was. */
function isLess(plan: Plan, from: Plan, { demands }: Problem): boolean {
  const left = new Set([...from.unbrewed.map((one) => one.id), ...from.unsold.map((one) => one.contractId)]);
  const held = new Map(from.brews.map((brew) => [brew.id, brew.promiseHeld]));
  const is = new Map([
    ...plan.brews.map((brew) => [brew.id, brew.promiseHeld] as const),
    ...plan.maltDeliveries.map((one) => [one.contractId, true] as const),
  ]);
  return demands.some(({ id }) => !left.has(id) && (!is.has(id) || (held.get(id) === true && !is.get(id))));
}
