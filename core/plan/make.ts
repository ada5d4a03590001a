import type { Highs } from "highs";
import { auditPlan } from "../audit/audit.ts";
import { Prover } from "../bound/prover.ts";
import { guidedStart } from "../guide/guide.ts";
import type { Aim } from "../guide/weekly.ts";
import { Annealer, type Found } from "../search/anneal.ts";
import type { Candidate } from "../search/candidate.ts";
import { steeringOf } from "../search/compare.ts";
import { dateBrews, withAllDated, withAllLate } from "../search/dates.ts";
import { Evaluator } from "../search/evaluate.ts";
import { withoutCrowding } from "../search/crowding.ts";
import { finish, type Finishing, settledEffort } from "../search/finish.ts";
import { doneBy, exchangeRuns } from "../search/run-exchange.ts";
import { candidateFrom } from "../search/from-plan.ts";
import { boardOf } from "../search/polish.ts";
import { problemOf } from "../search/problem.ts";
import { tankBoard } from "../search/tanks.ts";
import { checkSeason } from "../season/check.ts";
import { seasonHash } from "../season/canonical.ts";
import type { Season } from "../season/season.ts";
import { compareGoals } from "./compare.ts";
import { chooseBrews } from "../search/choose-brews.ts";
import { chooseOrders } from "../search/choose-orders.ts";
import type { PlanOptions, PlanOutcome, PlanProgress } from "./options.ts";
import { better, isMore, isWorthWhile, type Kept } from "./kept.ts";
import { polishSmall } from "./polish-small.ts";
import { PROGRAM } from "./program.ts";
import {
  CROWDED_GUIDES,
  CROWDED_HEAT,
  ENOUGH,
  EXCHANGES,
  FEW_DEMANDS,
  GUIDED_HEAT,
  GUIDES,
  HIGHER,
  LENIENT,
  LONG,
  MOST_HIGHER,
  MOST_SPARED,
  ORDER_ROOMS,
  PATIENCE,
  STARTS,
  THOROUGH,
} from "./rounds.ts";
import type { Plan } from "./plan.ts";
import { bareOf, isFull, isMany, isSmall, isVast, madeAlone, searchFrom, startOf } from "./starts.ts";

type Orders = Finishing["effort"]["orders"];

export const DEFAULT_ITERATIONS = 60_000;
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
  const thorough = each >= THOROUGH && !isMany(problem);
  const mayOrder = mayGuide && !isVast(problem);
  // Where orders are soon chosen anew, it is done for each plan that could be the best with them.
  const isQuick = mayOrder && thorough && problem.demands.length <= FEW_DEMANDS;
  const patience = each > LONG || problem.demands.length <= FEW_DEMANDS ? PATIENCE.long : PATIENCE.usual;
  const more = thorough ? GUIDES : 1;
  const of = options.iterations + (mayGuide ? each * (more + 2) : 0);
  let stoppedEarly = false, tried = 0;

  const finisher = settledEffort({ problem, evaluator, highs: options.highs, tanks, refused: start.refused });
  const planOf = (candidate: Candidate, chosen: Uint8Array | null, orders: Orders = null): Plan => ({
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
    ...finish({ ...finisher, effort: { ...finisher.effort, orders } }, candidate, chosen),
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
    orders: Orders = null,
  ) => {
    const plan = planOf(candidate, chosen, orders);
    const breaches = auditPlan(season, plan);
    const before = best;
    if (!best || better({ plan, breaches, candidate }, best)) {
      best = { plan, breaches, candidate };
      tell(stage, done);
    }
    if (isQuick && orders === null && breaches.length === 0) orderTogether(candidate, plan);
    return best !== before;
  };
  const tell = (stage: PlanProgress["stage"], at: number) => {
    const done = Math.min(of, at);
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
    const isEnough = evaluator.hurry.crowded || isFull(problem, (best as unknown as Kept).plan);
    if (round >= ENOUGH && thorough && mayGuide && isEnough) break;
    const found = anneal(starts[round % starts.length] as Candidate, round, 1);
    if (each >= THOROUGH) choose(found);
    // Known early, the bound says with each better plan how much is left to gain.
    if (round === 0) prove(tried);
  }
  if (mayGuide && !stopped()) searchFromWeeks();
  const unchosen = best;
  if (mayChoose && !stopped()) searchChosen();
  if (mayGuide && thorough && !stopped()) searchHigher();
  if (isMore(best as unknown as Kept, unchosen as unknown as Kept) && !stopped()) {
    const found = searchGuided(0);
    if (found) choose(found);
  }
  if (mayChoose && thorough) exchange();
  if (mayOrder && !isQuick) {
    orderTogether((best as unknown as Kept).candidate, (best as unknown as Kept).plan);
  }
  if (each > 0 && !stoppedEarly && isSmall(problem)) {
    polishSmall(finisher, pool.map((one) => one.candidate), {
      best: () => (best as unknown as Kept).candidate,
      offer: (candidate) => offer(candidate, "weighing", of),
      stopped,
    });
  }
  // What facts and bookings leave is a plan too, when nothing more can be done without breaking a rule.
  const own = (best as Kept | null)?.breaches ?? [];
  const setAside = own.length > 0 && offer(bareOf(problem, start.candidate), "searching", of) ? own : [];

  function anneal(from: Candidate, round: number, heat: number): Candidate {
    evaluator.lenient = LENIENT.has(round) && !evaluator.hurry.crowded;
    const found = new Annealer(
      problem,
      evaluator,
      boardOf(problem, from),
      tanks,
      from,
      {
        seed: options.seed * STARTS + round + 1,
        iterations: heat < 1 ? Math.floor(each / 2) : each,
        steering,
        substitutes: options.highs !== null && problem.substitutes.length > 0,
        heat,
        onStep: (i) => report({ stage: "searching", done: Math.min(of, tried + i), of }),
        ...(options.cancelled ? { cancelled: options.cancelled } : {}),
      },
    ).run(pool);
    evaluator.lenient = false;
    stopped();
    tried += each;
    offer(found.candidate, "searching", tried);
    return found.candidate;
  }

  /** Cheaper runs for what the best plan makes and keeps on its days, as long as exact weights find that they save something. */
  function exchange(): void {
    for (let left = EXCHANGES; left > 0 && !stopped(); left--) {
      const before = best as unknown as Kept;
      const found = exchangeRuns(finisher, before.candidate, before.plan, stopped);
      if (!found || !offer(found, "weighing", of, doneBy(problem, before.plan))) return;
      if (!isWorthWhile(best as unknown as Kept, before)) return;
    }
  }

  /**
   * Cheaper orders for what a candidate's plan makes and keeps, where they could make it the best: as large as they may be, or else with room
   * for bags that are begun.
   */
  function orderTogether(candidate: Candidate, plan: Plan): void {
    const { goals } = plan;
    const hoped = goals.moneyCents - MOST_SPARED * goals.money.ordersCents;
    if (compareGoals({ ...goals, moneyCents: hoped }, (best as unknown as Kept).plan.goals) > 0) return;
    const done = doneBy(problem, plan);
    for (const room of ORDER_ROOMS) {
      const orders = stopped() ? null : chooseOrders(finisher, candidate, plan, room, stopped);
      if (orders !== null && offer(candidate, "weighing", of, done, orders)) return;
    }
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
   * Searches from the weekly model's runs, as long as they save something: where all is made and kept they are quick, and save most; in a
   * crowded malt store each is another beginning. Where something is short, first from those with which it makes and keeps most.
   */
  function searchFromWeeks(): void {
    if (mayChoose && !isFull(problem, (best as unknown as Kept).plan)) searchLate(0, "most");
    searchGuided(0);
    const { crowded } = evaluator.hurry;
    if (!thorough || !(crowded || isFull(problem, (best as unknown as Kept).plan))) return;
    const most = crowded ? CROWDED_GUIDES : GUIDES;
    for (let variant = 1, idle = 0; variant < most && idle < patience && !stopped(); variant++) {
      const before = best as unknown as Kept;
      searchGuided(variant);
      idle = isWorthWhile(best as unknown as Kept, before) ? 0 : idle + 1;
    }
  }

  /** One search more, from the weekly model's runs: what it saves the others do not find of themselves. */
  function searchGuided(variant: number): Candidate | null {
    return fromWeeks(variant, "these", (guided) => {
      // Offered as it is, too: searched further it counts as better, but need not weigh out so.
      offer(guided, "searching", tried);
      return stopped() ? null : anneal(guided, STARTS, GUIDED_HEAT);
    });
  }

  /**
   * Searches from the weekly model's runs with more than the best plan has, as high as `HIGHER` says in turn, until `patience` of them in a
   * row have gained nothing. What a crowded malt store holds that model does not see: there the best plan itself is searched further.
   */
  function searchHigher(): void {
    for (let variant = 0, idle = 0; variant < MOST_HIGHER && idle < patience && !stopped(); variant++) {
      const before = best as unknown as Kept;
      if (isFull(problem, before.plan)) return;
      const at = HIGHER[variant % HIGHER.length] as Aim["at"];
      if (evaluator.hurry.crowded) anneal(before.candidate, STARTS + variant, CROWDED_HEAT);
      // With nothing asked of the goals behind, no goal can be raised at all.
      else if (!searchLate(variant, at) && at === "one more alone") return;
      idle = isWorthWhile(best as unknown as Kept, before) ? 0 : idle + 1;
    }
  }

  /** One search from the weekly model's runs with brews as late as may be, as the model takes them; null where it has no such runs. */
  function searchLate(variant: number, at: Aim["at"]): Candidate | null {
    return fromWeeks(variant, at, (guided) => {
      const late = { ...guided, day: withAllLate(problem, tanks, guided.day) };
      choose(late);
      if (!stopped()) choose(anneal(late, STARTS + variant, GUIDED_HEAT));
      return late;
    });
  }

  /** Begins from the weekly model's runs, with the malt store as crowded as they leave it. */
  function fromWeeks(
    variant: number,
    at: Aim["at"],
    search: (guided: Candidate) => Candidate | null,
  ): Candidate | null {
    const { candidate, plan: { goals } } = best as unknown as Kept;
    const { crowded } = evaluator.hurry;
    const guided = guidedStart(
      options.highs as Highs,
      evaluator,
      dated(candidate),
      { goals, at },
      variant,
      stopped,
    );
    // Full loads in all weeks would overfill a crowded store: searched from there, nothing would be found that it holds.
    const held = guided && evaluator.hurry.crowded ? withoutCrowding(evaluator, guided) : guided;
    const found = held && !stopped() ? search(held) : null;
    evaluator.hurry.crowded = crowded;
    return found;
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
