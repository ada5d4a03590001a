import type { Highs } from "highs";
import { auditPlan } from "../audit/audit.ts";
import { Prover } from "../bound/prover.ts";
import { guidedStart } from "../guide/guide.ts";
import { Annealer, type Found } from "../search/anneal.ts";
import type { Candidate } from "../search/candidate.ts";
import { steeringOf } from "../search/compare.ts";
import { dateBrews, withAllDated } from "../search/dates.ts";
import { Evaluator } from "../search/evaluate.ts";
import { finish, settledEffort } from "../search/finish.ts";
import { candidateFrom } from "../search/from-plan.ts";
import { boardOf, neighbours, signature } from "../search/polish.ts";
import { problemOf } from "../search/problem.ts";
import { tankBoard } from "../search/tanks.ts";
import { checkSeason } from "../season/check.ts";
import { seasonHash } from "../season/canonical.ts";
import type { Season } from "../season/season.ts";
import { chooseBrews } from "../search/choose-brews.ts";
import { chooseRuns } from "../search/choose-runs.ts";
import { compareGoals } from "./compare.ts";
import type { PlanOptions, PlanOutcome, PlanProgress } from "./options.ts";
import { PROGRAM } from "./program.ts";
import type { Plan } from "./plan.ts";
import {
  bareOf,
  isFull,
  isMany,
  isSmall,
  isVast,
  type Kept,
  madeAlone,
  searchFrom,
  startOf,
} from "./starts.ts";

export const DEFAULT_ITERATIONS = 60_000;
/** Single starts differ by a few per cent, so the search starts several times and keeps the best. */
const STARTS = 4;
/** Starts in which runs may count on grain that stores do not yield. */
const LENIENT = new Set([1, 3]);
/** Starts from the weekly model's runs, where all is made and kept and where something is short: each ends a few per cent dearer or cheaper. */
const GUIDES = { full: 8, short: 3 } as const;
/** Changes of one start below which a search is to be quick: it starts once from the weekly model, and chooses only for the best plan. */
const THOROUGH = 10_000;
/** First temperature of a search from the weekly model's runs, as a share: at the usual one they would be lost again. */
const GUIDED_HEAT = 0.05;
/** Exact weighings a small season may cost. */
const EXACT_TRIES = 600;
/** Sets of runs the allocation model proposes for a small season. */
const PROPOSALS = 2;

/**
 * From a season to its best audited plan: naive plan, search from several seeds, exact weights, audit. Always the same for the
 * same season, seed and iterations. Stopping early gives the best plan so far, marked as such.
 */
export async function makePlan(season: Season, options: PlanOptions): Promise<PlanOutcome> {
  const asOf = options.asOf ?? season.fixedAsOf ?? season.asOf;
  const { findings } = checkSeason(season, { asOf });
  if (findings.some((finding) => finding.level === "error")) return { kind: "cannot", findings };
  // A live farm's now moves on: the plan belongs to the season as of its own minute.
  const hash = await seasonHash({ ...season, asOf });
  const report = options.onProgress ?? (() => {});
  report({ stage: "reading", done: 0, of: options.iterations });

  const problem = problemOf(season, asOf);
  const tanks = tankBoard(problem);
  const dates = dateBrews(problem, tanks);
  const evaluator = new Evaluator(problem, problem.booked.changes);
  const start = startOf(problem, evaluator, dates);
  const steering = steeringOf(problem, evaluator.markets.map((market) => market.centsPerExtractG));
  const prover = options.prove && options.highs
    ? new Prover(options.highs, problem, options.cancelled)
    : null;
  const each = Math.floor(options.iterations / STARTS);
  const mayGuide = options.highs !== null && each > 0 && !isSmall(problem);
  const mayChoose = mayGuide && !isVast(problem) && !evaluator.hurry.crowded;
  const more = each < THOROUGH || isMany(problem) ? 1 : GUIDES.full;
  const of = options.iterations + (mayGuide ? each * (more + 2) : 0);
  let stoppedEarly = false, tried = 0;

  const finisher = settledEffort({ problem, evaluator, highs: options.highs, tanks, refused: start.refused });
  const planOf = (candidate: Candidate, chosen: Uint8Array | null): Plan => ({
    format: "rickyard-plan",
    version: 1,
    seasonId: season.id,
    seasonHash: hash,
    revision: options.revision ?? 0,
    asOf,
    seed: options.seed,
    iterations: options.iterations,
    program: PROGRAM,
    stoppedEarly,
    ...finish(finisher, candidate, chosen),
  });

  const stopped = () => {
    if (options.cancelled?.()) stoppedEarly = true;
    return stoppedEarly;
  };

  let best: Kept | null = null;
  const offer = (
    candidate: Candidate,
    stage: PlanProgress["stage"],
    done: number,
    chosen: Uint8Array | null = null,
  ) => {
    const plan = planOf(candidate, chosen);
    const breaches = auditPlan(season, plan);
    if (best && !better({ plan, breaches, candidate }, best)) return false;
    best = { plan, breaches, candidate };
    tell(stage, done);
    return true;
  };
  const tell = (stage: PlanProgress["stage"], done: number) => {
    if (!best || best.breaches.length > 0) report({ stage, done, of });
    else report({ stage, done, of, best: prover?.carried(best.plan) ?? best.plan });
  };
  const prove = (done: number) => {
    if (!prover || !best || best.breaches.length > 0) return;
    report({ stage: "proving", done, of });
    prover.prove(best.plan.goals);
    tell("proving", done);
  };

  offer(start.candidate, "naive", 0);
  // A search of so large a season takes long; what is left to gain is known before it.
  if (isVast(problem) && options.iterations > 0 && !stopped()) prove(0);
  const starts = [start.candidate];
  if (options.from) {
    const fixed = start.candidate.runs.filter((run) => run.fixed);
    starts.push(candidateFrom(problem, tanks, fixed, dates.day, options.from));
    offer(starts[1] as Candidate, "naive", 0);
  }
  if (options.iterations > 0) starts[0] = searchFrom(problem, evaluator, start.candidate, dates.day);
  const pool: Found[] = [];
  for (let round = 0; round < STARTS && each > 0 && !stopped(); round++) {
    const found = anneal(starts[round % starts.length] as Candidate, round, 1);
    if (each >= THOROUGH) choose(found);
    // Known early, the bound says with each better plan how much is left to gain.
    if (round === 0) prove(tried);
  }
  if (mayGuide && !stopped()) searchFromWeeks();
  const unchosen = best;
  if (mayChoose && !stopped()) searchChosen();
  if (best !== unchosen && !stopped()) {
    const found = searchGuided(0);
    if (found) choose(found);
  }
  if (each > 0 && !stoppedEarly && isSmall(problem)) polish();
  // What facts and bookings leave is a plan too, when nothing more can be done without breaking a rule.
  const own = (best as Kept | null)?.breaches ?? [];
  const setAside = own.length > 0 && offer(bareOf(problem, start.candidate), "searching", of) ? own : [];

  function anneal(from: Candidate, round: number, heat: number): Candidate {
    evaluator.lenient = LENIENT.has(round);
    const found = new Annealer(
      problem,
      evaluator,
      boardOf(problem, from),
      tanks,
      from,
      {
        seed: options.seed * STARTS + round + 1,
        iterations: each,
        steering,
        substitutes: options.highs !== null && problem.substitutes.length > 0,
        heat,
        onStep: (i) => report({ stage: "searching", done: tried + i, of }),
        ...(options.cancelled ? { cancelled: options.cancelled } : {}),
      },
    ).run(pool);
    evaluator.lenient = false;
    stopped();
    tried += each;
    offer(found.candidate, "searching", tried);
    return found.candidate;
  }

  /** The best plan's runs with what is made of them chosen anew, a search that keeps to that choice, and then all chosen once more. */
  function searchChosen(): void {
    choose((best as unknown as Kept).candidate);
    const focused = madeAlone(problem, best as unknown as Kept);
    if (focused) choose(anneal(focused, STARTS + 1, 1));
  }

  /** What exact weights make of the candidate's runs if they may choose, all brews dated. */
  function choose(candidate: Candidate): void {
    if (!mayChoose || stopped()) return;
    const full = dated(candidate);
    const { made, promisesHeld } = (best as unknown as Kept).plan.goals;
    const chosen = chooseBrews(finisher, full, [...made, promisesHeld], stopped);
    if (chosen) offer(full, "weighing", tried, chosen);
  }

  function dated(candidate: Candidate): Candidate {
    return { ...candidate, day: withAllDated(problem, tanks, candidate.day) };
  }

  /**
   * Searches from the weekly model's runs, as many as the season leaves time for: where all is made and kept they are quick, and save most;
   * where brews go short for want of places in the malt store they take long, and one that gains nothing is the last.
   */
  function searchFromWeeks(): void {
    const before = best;
    searchGuided(0);
    const full = isFull(problem, (best as unknown as Kept).plan);
    if (isMany(problem) || each < THOROUGH || (!full && evaluator.hurry.crowded && best === before)) return;
    const more = full ? GUIDES.full : GUIDES.short;
    for (let variant = 1; variant < more && !stopped(); variant++) searchGuided(variant);
  }

  /** One search more, from the weekly model's runs: what it saves the others do not find of themselves. */
  function searchGuided(variant: number): Candidate | null {
    const { candidate, plan } = best as unknown as Kept;
    const { crowded } = evaluator.hurry;
    const guided = guidedStart(options.highs as Highs, evaluator, dated(candidate), plan.goals, variant);
    let found: Candidate | null = null;
    if (guided && !stopped()) {
      // Offered as it is, too: searched further it counts as better, but need not weigh out so.
      offer(guided, "searching", tried);
      if (!stopped()) found = anneal(guided, STARTS, GUIDED_HEAT);
    }
    evaluator.hurry.crowded = crowded;
    return found;
  }

  /** A small season is weighed exactly many times: first the pool, then every step around the best, until none helps. */
  function polish(): void {
    const seen = new Set<string>();
    let left = EXACT_TRIES;
    const attempt = (candidate: Candidate) => {
      const name = signature(candidate);
      if (options.cancelled?.()) stoppedEarly = true;
      if (seen.has(name) || left <= 0 || stoppedEarly) return false;
      seen.add(name);
      left--;
      return offer(candidate, "weighing", of);
    };
    for (const one of pool) attempt(one.candidate);
    const { highs } = options;
    const from = best?.candidate as Candidate;
    const input = { problem, evaluator, evaluation: evaluator.evaluate(from, 1), tanks };
    if (highs && !stoppedEarly) {
      for (const candidate of chooseRuns(highs, input, from, PROPOSALS)) attempt(candidate);
    }
    for (let improved = true; improved && left > 0;) {
      improved = false;
      const around = best?.candidate as Candidate;
      for (const candidate of neighbours(problem, tanks, around)) if (attempt(candidate)) improved = true;
    }
  }
  prove(of);
  const { plan, breaches } = best as unknown as Kept;
  const whole = { ...plan, stoppedEarly };
  const marked = prover?.carried(whole) ?? whole;
  return breaches.length === 0
    ? { kind: "planned", plan: marked, breaches: [], setAside }
    : { kind: "breached", breaches, plan: marked };
}

/** The plan without a search: the measure for it. */
export async function makeNaivePlan(season: Season, options: PlanOptions): Promise<Plan> {
  const outcome = await makePlan(season, { ...options, iterations: 0 });
  if (outcome.kind === "cannot") throw new RangeError("a season with errors has no plan");
  return outcome.plan;
}

/** Fewer breaches first, then the goals in order. */
function better(a: Kept, b: Kept): boolean {
  if (a.breaches.length !== b.breaches.length) return a.breaches.length < b.breaches.length;
  return compareGoals(a.plan.goals, b.plan.goals) < 0;
}
