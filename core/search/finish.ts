import type { Highs } from "highs";
import { compareGoals } from "../plan/compare.ts";
import { lastRunsBefore } from "./crowding.ts";
import { compareScores } from "./compare.ts";
import { type Candidate, cropOf, type RunChoice } from "./candidate.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import { weightsOf } from "./finish-weights.ts";
import { type Effort, FULL_EFFORT } from "./effort.ts";
import type { Refusal } from "./fixed.ts";
import type { Demand, Problem } from "./problem.ts";
import { exactWants, settle } from "./settle.ts";
import type { PlanBody } from "./settling.ts";
import { stow } from "./stow.ts";
import type { Stowage } from "./stow-walk.ts";
import type { TankBoard } from "./tanks.ts";
import { firmKey } from "./wants.ts";
import { isWhole, weigh, type Weighs, type Weights } from "./weights.ts";

/** Tonnes of grain that runs may go short of in the count: exact weights mend so little themselves. */
const MENDED_T = 0.5;
/** Times in a row that leaving something out may come to nothing better. */
const IDLE = 3;
/** Weighings anew for what is lost on moves. */
const ROUNDS = 4;

export interface Finisher {
  problem: Problem;
  evaluator: Evaluator;
  highs: Highs | null;
  tanks: TankBoard;
  refused: readonly Refusal[];
  /** `FULL_EFFORT` when left out. */
  effort?: Effort;
}

/** A finisher whose effort is settled. */
export type Finishing = Finisher & { effort: Effort };

/**
 * From a candidate to a plan in whole grams: exact weights, stowing, orders, books. Runs that the stores cannot give their least
 * load, and runs and orders whose malt finds no place, are left out.
 */
export function finish(finisher: Finisher, candidate: Candidate): PlanBody {
  const by: Finishing = { ...finisher, effort: finisher.effort ?? FULL_EFFORT };
  let kept = candidate;
  let { problem } = by;
  const noRoomFor = new Set<string>();
  let last = finishOnce(by, kept, noRoomFor);
  let best = last;
  let idle = 0;
  for (let drops = 0; drops < by.effort.drops && idle < IDLE; drops++) {
    const { days, order } = last.over;
    if (last.unsold.size === 0 && last.starved.size === 0 && last.over.placeDays === 0) break;
    const before = lastRunsBefore(kept.runs, days[0] ?? -Infinity);
    if (last.unsold.size > 0) problem = withoutSales(problem, last.unsold);
    else if (last.starved.size > 0) kept = without(kept, last.starved);
    else if (order && order.arrives >= (before[0]?.slot.stripDay ?? -Infinity)) noRoomFor.add(order.batchId);
    else if (before.length > 0) kept = without(kept, new Set(before));
    else break;
    last = finishOnce({ ...by, problem }, kept, noRoomFor, last.asCounted === true);
    if (isBetter(last, best)) {
      best = last;
      idle = 0;
    } else if (isSound(best)) idle++;
  }
  const { near } = by.effort;
  if (near && best.rounded.size > 0) {
    const effort = { ...by.effort, near: { ...near, padded: best.rounded } };
    const again = finishOnce({ ...by, problem, effort }, kept, noRoomFor);
    if (compareGoals(again.body.goals, best.body.goals) < 0 && again.over.placeDays === 0) best = again;
  }
  return best.explained();
}

/** Whether all of it has its place; runs that get no grain after all are simply not made. */
function isSound({ over, unsold }: Settled): boolean {
  return over.placeDays === 0 && unsold.size === 0;
}

function isBetter(one: Settled, other: Settled): boolean {
  if (isSound(one) !== isSound(other)) return isSound(one);
  return !isSound(one) || compareGoals(one.body.goals, other.body.goals) < 0;
}

/** As if nothing were due under these grain contracts. */
function withoutSales(problem: Problem, unsold: ReadonlySet<string>): Problem {
  return {
    ...problem,
    grainSales: problem.grainSales.map((one) => unsold.has(one.contract.id) ? { ...one, day: null } : one),
    lots: problem.lots.map((lot) => ({ ...lot, firm: lot.firm.filter((firm) => !unsold.has(firm.id)) })),
  };
}

function without(candidate: Candidate, dropped: ReadonlySet<RunChoice>): Candidate {
  return { ...candidate, runs: candidate.runs.filter((run) => !dropped.has(run)) };
}

/** `asCounted` where the malt store is so crowded that an attempt before came nearest with the search's own weights. */
function finishOnce(
  by: Finishing,
  candidate: Candidate,
  noRoomFor: ReadonlySet<string>,
  asCounted = false,
): Settled {
  const { evaluator, effort: { breadth, rooms, whole, near } } = by;
  const evaluation = evaluated(evaluator, candidate, breadth);
  const runs = candidate.runs.filter((_, i) =>
    (evaluation.loads.drawG[i] as number) + (evaluation.loads.draw2G[i] as number) > 0
  );
  const kept = { ...candidate, runs };
  const again = runs.length === candidate.runs.length ? evaluation : evaluated(evaluator, kept, breadth);
  const counted = () => ({
    // The search counted places as it went; the model only sees their weight.
    ...weighAndStow(by, kept, again, {
      ...{ room: 1, tightDays: [], fixedLoads: true, counted: true },
      ...{ noRoomFor, whole, near },
    }),
    asCounted: true,
  });
  if (asCounted) return counted();
  const hopeful = withHopes(by, kept, again);
  let best: Settled | null = null;
  const tightDays = new Set<number>();
  for (const room of rooms) {
    const next = bestOf(by, kept, hopeful, { room, tightDays: [...tightDays], noRoomFor, whole, near });
    if (!best || next.over.placeDays < best.over.placeDays) best = next;
    if (best.over.placeDays === 0) return best;
    for (const day of next.over.days) tightDays.add(day);
  }
  const other = counted();
  return best && best.over.placeDays <= other.over.placeDays ? best : other;
}

/**
 * The best count of a candidate: in which hardly anything is short; or else as the search left it; where many choices at each fill
 * leave grain short, with one at each; and where the search found that stores do not yield all grain, as if they did.
 */
function evaluated(evaluator: Evaluator, candidate: Candidate, breadth: number): Evaluation {
  evaluator.lenient = true;
  let best = evaluator.evaluate(candidate, breadth);
  evaluator.lenient = false;
  if (best.score.broken < MENDED_T) return best;
  best = evaluator.evaluate(candidate, breadth);
  const compare = (one: Candidate, width: number) => {
    const next = evaluator.evaluate(one, width);
    if (compareScores(next.score, best.score) < 0) best = next;
  };
  if (best.score.broken > 0) compare(candidate, 1);
  const { cutG: _, ...fresh } = candidate;
  if (candidate.cutG?.some((massG) => massG > 0)) compare(fresh, breadth);
  return best;
}

/**
 * What exact weights can make and keep beside what was counted on: promises, as the count shares out each malt by itself, and brews
 * that part of a substitute would complete. A larger season only; a smaller one's weights choose for themselves.
 */
function withHopes(by: Finishing, kept: Candidate, evaluation: Evaluation): Evaluation {
  const { problem, evaluator, highs, effort: { whole, near } } = by;
  if (!highs || (whole && isWhole(problem, evaluation, kept.runs))) return evaluation;
  const hoped = evaluation.status.map((is, index) => {
    const { id, promise, kind, lines } = problem.demands[index] as Demand;
    if (kind !== "brew" || (kept.day[index] as number) < 0) return is;
    // What the accepted plan makes can be made; the rest is for a longer search.
    if (near) return Math.max(is, near.made.get(id) ?? 0);
    if (is === 0 && lines.every((line) => line.substitutes.length === 0)) return 0;
    return promise > 0 && evaluator.table.promiseInReach[index] ? 2 : Math.max(1, is);
  });
  if (hoped.every((one, index) => one === evaluation.status[index])) return evaluation;
  const input = { problem, evaluator, runs: kept.runs, day: kept.day, tanks: by.tanks };
  const cutG = new Float64Array(problem.lots.length);
  const how = { room: 1, tightDays: [], fixedLoads: false, whole, near };
  const weights = weigh(highs, { ...input, evaluation: { ...evaluation, status: hoped } }, cutG, how);
  if (!weights) return evaluation;
  const lost = weights.status.some((is, index) => is === 0 && (evaluation.status[index] as number) > 0);
  const worth = (status: Uint8Array) =>
    problem.demands.reduce((sum, one) => sum + (one.class < 4 ? status[one.index] as number : 0), 0);
  return !lost && worth(weights.status) > worth(evaluation.status)
    ? { ...evaluation, status: weights.status }
    : evaluation;
}

type Room = Omit<Weighs, "fixedLoads" | "counted"> & { noRoomFor: ReadonlySet<string> };
type Settled = ReturnType<typeof settle> & {
  starved: ReadonlySet<RunChoice>;
  unsold: ReadonlySet<string>;
  /** Brews that were weighed and that whole grams leave without. */
  rounded: ReadonlySet<number>;
  /** With the search's own weights. */
  asCounted?: boolean;
};

/** With the best loads; or with the search's own, where trimmed loads leave so much in a store that other grain finds no place. */
function bestOf(by: Finishing, kept: Candidate, evaluation: Evaluation, room: Room): Settled {
  const trimmed = weighAndStow(by, kept, evaluation, { ...room, fixedLoads: false });
  const leftOutG = (one: readonly { massG: number }[]) => one.reduce((sum, each) => sum + each.massG, 0);
  if (leftOutG(trimmed.body.leftOut) <= leftOutG(evaluation.stowage.leftOut)) return trimmed;
  const full = weighAndStow(by, kept, evaluation, { ...room, fixedLoads: true });
  const more = full.over.placeDays - trimmed.over.placeDays;
  if (more !== 0) return more < 0 ? full : trimmed;
  return compareGoals(full.body.goals, trimmed.body.goals) < 0 ? full : trimmed;
}

function weighAndStow(
  by: Finishing,
  kept: Candidate,
  evaluation: Evaluation,
  how: Weighs & Room,
): Settled {
  const { problem, evaluator, effort: { breadth, last, usual } } = by;
  const cutG = new Float64Array(problem.lots.length);
  let weights = weightsOf(by, kept, evaluation, cutG, how);
  const lastStow = () => {
    const wants = exactWants(problem, evaluator, kept, weights, evaluation);
    const { changes } = problem.booked;
    const first = usual ? stow(problem, wants, changes, breadth) : null;
    if (first?.short.size === 0) return first;
    const thorough = stow(problem, wants, changes, last, true);
    if (thorough.short.size === 0) return thorough;
    // The one that looks dearest in money may be the one in which nobody goes short.
    const others = [1, breadth].map((width) => stow(problem, wants, changes, width));
    return others.reduce((best, one) => shortG(one) < shortG(best) ? one : best, thorough);
  };
  let stowage = lastStow();
  // Grain lost on moves is known only after stowing: the loads are weighed again without it.
  for (let round = 0; round < ROUNDS && stowage.short.size > 0; round++) {
    for (const [lot, massG] of stowage.short) cutG[lot] = (cutG[lot] as number) + Math.ceil(massG);
    const before = weights;
    weights = weightsOf(by, kept, evaluation, cutG, how);
    // Loads that cannot give way stay as they are: the runs that starve have to go.
    if (sameLoads(before, weights)) break;
    stowage = lastStow();
  }
  const candidate = weights.day ? { ...kept, day: weights.day } : kept;
  const settled = settle({ ...by, candidate, evaluation, weights, stowage, noRoomFor: how.noRoomFor });
  const made = new Set(settled.body.brews.map((brew) => brew.id));
  return {
    ...settled,
    rounded: new Set(
      problem.demands.filter(({ index, id, kind }) =>
        kind === "brew" && (weights.status[index] as number) > 0 && !made.has(id)
      ).map(({ index }) => index),
    ),
    starved: starvedOf(problem, kept.runs, weights, stowage),
    unsold: unsoldOf(problem, stowage),
  };
}

function shortG({ short }: Stowage): number {
  let sum = 0;
  for (const massG of short.values()) sum += massG;
  return sum;
}

function sameLoads(one: Weights, other: Weights): boolean {
  return one.drawG.every((massG, i) => massG === other.drawG[i]) &&
    one.draw2G.every((massG, i) => massG === other.draw2G[i]);
}

/** Free runs that were to be made and got less grain than their least load, or none: what one of them got feeds no other. */
function starvedOf(
  problem: Problem,
  runs: readonly RunChoice[],
  weights: Weights,
  stowage: Stowage,
): Set<RunChoice> {
  return new Set(runs.filter((run, i) => {
    const made = problem.materials[run.slot.malt]?.made;
    const wantedG = (weights.drawG[i] as number) + (weights.draw2G[i] as number);
    if (run.fixed || !made || wantedG <= 0) return false;
    const gotG = stowage.taken.reduce((sum, one) => one.key === i ? sum + one.massG : sum, 0);
    const leastG = run.slot.leastG[cropOf(problem, run)] as number;
    return gotG - Math.round(gotG * made.screeningLoss) < leastG;
  }));
}

/** Grain contracts whose grain is not all there after all, as a harvest found no room. */
function unsoldOf(problem: Problem, stowage: Stowage): Set<string> {
  const short = problem.lots.flatMap((lot) =>
    lot.firm.filter(({ kind, day, massG }, i) => {
      const key = firmKey(lot.index, i);
      const gotG = stowage.taken.reduce((sum, one) => one.key === key ? sum + one.massG : sum, 0);
      return kind === "sale" && day <= problem.endDay && gotG < massG;
    })
  );
  return new Set(short.map((one) => one.id));
}
