import type { Highs } from "highs";
import { compareGoals } from "../plan/compare.ts";
import { lastRunsBefore } from "./crowding.ts";
import { counted } from "./counted.ts";
import { type Candidate, cropOf, type RunChoice } from "./candidate.ts";
import type { Evaluation, Evaluator, Score } from "./evaluate.ts";
import { weightsOf } from "./finish-weights.ts";
import { type Effort, FULL_EFFORT } from "./effort.ts";
import type { Refusal } from "./fixed.ts";
import type { Problem } from "./problem.ts";
import { withHopes } from "./hopes.ts";
import { exactWants, settle } from "./settle.ts";
import type { PlanBody } from "./settling.ts";
import { stow } from "./stow.ts";
import type { Stowage } from "./stow-walk.ts";
import type { TankBoard } from "./tanks.ts";
import { firmKey } from "./wants.ts";
import type { Weighs, Weights } from "./weights.ts";

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
 * load, and runs and orders whose malt finds no place, are left out. `chosen` says by demand what exact weights are to make and keep, as
 * `chooseBrews` found it, as long as nothing has to be left out.
 */
export function finish(finisher: Finisher, candidate: Candidate, chosen: Uint8Array | null = null): PlanBody {
  const by = settledEffort(finisher);
  let kept = candidate;
  let { problem } = by;
  const noRoomFor = new Set<string>();
  let last = finishOnce(by, kept, noRoomFor, false, chosen);
  let best = last, of = { kept, problem, noRoomFor: new Set(noRoomFor) };
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
      of = { kept, problem, noRoomFor: new Set(noRoomFor) };
      idle = 0;
    } else if (isSound(best)) idle++;
  }
  // First those ask for a little more that rounding left without; then all do, as many small parts may have added up.
  for (const padded of [best.rounded, new Set(problem.demands.keys())]) {
    if (best.rounded.size === 0 || best.asCounted) break;
    const effort = { ...by.effort, padded };
    const again = finishOnce(
      { ...by, problem: of.problem, effort },
      of.kept,
      of.noRoomFor,
      false,
      best.hopes,
    );
    if (isSound(again) && isBetter(again, best)) best = again;
  }
  if (by.evaluator.hurry.crowded && !best.asCounted && isLess(best.body.goals, best.score)) {
    const other = finishOnce({ ...by, problem: of.problem }, of.kept, of.noRoomFor, true);
    if (isSound(other) && isBetter(other, best)) best = other;
  }
  return best.explained();
}

/** The finisher with the effort that it leaves out. */
export function settledEffort(finisher: Finisher): Finishing {
  return { ...finisher, effort: finisher.effort ?? FULL_EFFORT };
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

/**
 * `asCounted` for the search's own weights: where an attempt before came nearest with them, or made less than it counted; `hoped` where it is
 * known what exact weights can make and keep.
 */
function finishOnce(
  by: Finishing,
  candidate: Candidate,
  noRoomFor: ReadonlySet<string>,
  asCounted = false,
  hoped: Uint8Array | null = null,
): Settled {
  const { evaluator, effort: { breadth, rooms, whole, near, orders, padded } } = by;
  const { kept, evaluation: again } = counted(evaluator, candidate, breadth);
  // Nothing mends here what runs count on and do not get.
  const yielded = () => again.stowage.short.size > 0 ? evaluator.evaluate(kept, breadth) : again;
  const asItIs = () => ({
    // The search counted places as it went; the model only sees their weight.
    ...weighAndStow(by, kept, yielded(), {
      ...{ room: 1, tightDays: [], fixedLoads: true, counted: true },
      ...{ noRoomFor, whole, near, orders, padded },
    }),
    asCounted: true,
  });
  if (asCounted) return asItIs();
  const hopes = hoped ?? withHopes(by, kept, again);
  const hopeful = { ...again, status: hopes };
  let best: Settled | null = null;
  let other: Settled | null = null;
  const tightDays = new Set<number>();
  for (const room of rooms) {
    const next = {
      ...bestOf(by, kept, hopeful, {
        room,
        tightDays: [...tightDays],
        noRoomFor,
        whole,
        near,
        orders,
        padded,
      }),
      hopes,
    };
    if (!best || next.over.placeDays < best.over.placeDays) best = next;
    if (best.over.placeDays === 0) return best;
    // What the search counted for a crowded store fits it, and less of the store hardly ever does more.
    if (evaluator.hurry.crowded && !other) {
      other = asItIs();
      if (isSound(other)) return other;
    }
    for (const day of next.over.days) tightDays.add(day);
  }
  other ??= asItIs();
  return best && best.over.placeDays <= other.over.placeDays ? best : other;
}

/** Whether a plan makes or keeps less than was counted. */
function isLess(goals: Settled["body"]["goals"], { made, promises }: Score): boolean {
  const counted = { ...goals, made: made.slice(0, 3) as typeof goals.made, promisesHeld: promises };
  return compareGoals({ ...goals, tailMade: made[3] }, { ...counted, tailMade: made[3] }) > 0;
}

type Room = Omit<Weighs, "fixedLoads" | "counted"> & { noRoomFor: ReadonlySet<string> };
type Settled = ReturnType<typeof settle> & {
  starved: ReadonlySet<RunChoice>;
  unsold: ReadonlySet<string>;
  /** Brews that were weighed and that whole grams leave without. */
  rounded: ReadonlySet<number>;
  /** What the search counted; and whether the plan keeps its weights. */
  score: Score;
  asCounted?: boolean;
  /** What was hoped for when it was weighed, by demand. */
  hopes?: Uint8Array;
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
  const made = new Map(settled.body.brews.map((brew) => [brew.id, brew.promiseHeld ? 2 : 1]));
  return {
    ...settled,
    rounded: new Set(
      problem.demands.filter(({ index, id, kind, promise }) =>
        kind === "brew" &&
        (made.get(id) ?? 0) < Math.min(weights.status[index] as number, promise > 0 ? 2 : 1)
      ).map(({ index }) => index),
    ),
    score: evaluation.score,
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
