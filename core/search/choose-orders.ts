import type { Highs } from "highs";
import { dayNumber } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { LinearModel } from "../solve/linear.ts";
import { type StandingModel, withStandingModel } from "../solve/standing.ts";
import type { Candidate } from "./candidate.ts";
import { counted } from "./counted.ts";
import type { Finishing } from "./finish.ts";
import type { Problem } from "./problem.ts";
import { costOf } from "./run-dive.ts";
import { doneBy } from "./run-exchange.ts";
import { limitLoads } from "./weigh-loads.ts";
import { startWeighing } from "./weighing.ts";
import type { WholeOrder } from "./weights.ts";

/** An order as the model has it. */
interface OpenOrder {
  readonly offer: number;
  readonly day: number;
  /** Column of its packs. */
  readonly packs: number;
  readonly leastPacks: number;
  readonly freight: number;
}

/** Packs this near to a whole number are whole. */
const WHOLE = 1e-6;
/** Tonnes that are lacking in earnest: a gram. */
const LACKING_T = 1e-6;
/** Gain below which it is left as it is, whole currency units. */
const LEAST_GAIN = 0.01;

/**
 * Cheaper orders for what a plan makes and keeps with a candidate's runs: weights and orders together. An order is spared where others can
 * bring more, and brews take more of them while they last; then packs are made whole, one order after another. What brews take of
 * bought malt and when is the model's choice, which the orders planned for given days of use do not have. Null where nothing is
 * saved, and where it was cancelled. `room` is the share of the malt store that weight may fill.
 */
export function chooseOrders(
  by: Finishing,
  candidate: Candidate,
  plan: Plan,
  room: number,
  cancelled: () => boolean = () => false,
): WholeOrder[] | null {
  const { problem, evaluator, highs, effort, tanks } = by;
  const planned = ordersOf(problem, plan);
  if (!highs || planned.length === 0 || cancelled()) return null;
  const { kept: { runs, day }, evaluation: count } = counted(evaluator, candidate, effort.breadth);
  const evaluation = { ...count, status: doneBy(problem, plan) };
  const weighing = startWeighing(
    { problem, evaluator, evaluation, runs, day, tanks },
    false,
    {
      ...{ room, tightDays: [], near: null, chooses: false },
      // With a little to spare, so that what is made and kept still is in whole grams.
      padded: new Set(problem.demands.keys()),
      orders: planned.map((one) => ({ ...one, packs: null })),
    },
    (model) => limitLoads(model, problem, evaluation, runs, evaluation.cutG, false, null),
  );
  const { model, sources } = weighing;
  const bought = sources.filter((source) => source.offer >= 0);
  const open = bought.map(({ offer, ready, column }): OpenOrder => {
    const { leastPacks, freightCents } = problem.offers[offer] as Problem["offers"][number];
    return { offer, day: ready, packs: column, leastPacks, freight: freightCents / 100 };
  });
  const lacks = [...weighing.lacks, ...weighing.shortPromises].map(({ column }) => column);
  return wholeOrders(highs, model, { orders: open, planned, lacks }, cancelled);
}

/** The orders of malt that a plan places, without those booked. */
function ordersOf({ offers, materials }: Problem, { orders }: Plan): WholeOrder[] {
  return orders.flatMap((order) => {
    const offer = offers.find((one) => one.id === order.offerId);
    if (order.standing !== "not booked" || !offer || !materials[offer.material]?.malt) return [];
    return [{ offer: offer.index, day: dayNumber(order.arrivesOn), packs: order.packs }];
  });
}

/** Orders and what all comes to with them. */
interface Answer {
  readonly values: Float64Array;
  readonly cost: number;
}

function wholeOrders(
  highs: Highs,
  model: LinearModel,
  { orders, planned, lacks }: {
    orders: readonly OpenOrder[];
    planned: readonly WholeOrder[];
    /** Columns of what lines and promises lack. */
    lacks: readonly number[];
  },
  cancelled: () => boolean,
): WholeOrder[] | null {
  return withStandingModel(highs, model, (lp) => {
    const solve = (placed: readonly OpenOrder[]): Answer | null => {
      const values = lp.solve(model.cost)?.values;
      const freight = placed.reduce((sum, one) => sum + one.freight, 0);
      return values ? { values, cost: costOf(model, values) + freight } : null;
    };
    // As it was planned: what is to be beaten.
    orders.forEach((one, i) => {
      const { packs } = planned[i] as WholeOrder;
      lp.setColumn(one.packs, packs, packs);
    });
    const before = solve(orders);
    const reopen = (one: OpenOrder) => lp.setColumn(one.packs, one.leastPacks, Infinity);
    for (const one of orders) reopen(one);
    const first = solve(orders);
    if (!before || !first) return null;
    // What is made and kept with other runs or loads than these is not this model's to change.
    if (lacks.some((column) => (before.values[column] as number) > LACKING_T)) return null;
    const placed = spared(lp, orders, first, solve, cancelled);
    const last = placed && madeWhole(lp, placed, solve, cancelled);
    if (!placed || !last || last.cost > before.cost - LEAST_GAIN) return null;
    return placed.map(({ offer, day, packs }) => ({
      offer,
      day,
      packs: Math.round(last.values[packs] as number),
    }));
  });
}

/** Leaves out orders, those of the fewest packs first, as long as that saves something. */
function spared(
  lp: StandingModel,
  orders: readonly OpenOrder[],
  from: Answer,
  solve: (placed: readonly OpenOrder[]) => Answer | null,
  cancelled: () => boolean,
): readonly OpenOrder[] | null {
  let placed = orders, best = from;
  const packs = (one: OpenOrder) => from.values[one.packs] as number;
  for (const one of orders.toSorted((a, b) => packs(a) - packs(b) || a.packs - b.packs)) {
    if (cancelled()) return null;
    const without = placed.filter((other) => other !== one);
    lp.setColumn(one.packs, 0, 0);
    const next = solve(without);
    if (next && next.cost < best.cost - LEAST_GAIN) {
      placed = without;
      best = next;
    } else lp.setColumn(one.packs, one.leastPacks, Infinity);
  }
  return placed;
}

/** Packs in whole numbers, from the first arrival on: fewer or more, whichever comes to less with the rest still open. */
function madeWhole(
  lp: StandingModel,
  placed: readonly OpenOrder[],
  solve: (placed: readonly OpenOrder[]) => Answer | null,
  cancelled: () => boolean,
): Answer | null {
  let answer = solve(placed);
  for (const one of placed.toSorted((a, b) => a.day - b.day || a.packs - b.packs)) {
    if (!answer || cancelled()) return null;
    const value: number = answer.values[one.packs] as number;
    const fewer = Math.floor(value + WHOLE);
    const tried = [fewer, ...(value - fewer > WHOLE ? [fewer + 1] : [])].filter((n) => n >= one.leastPacks);
    const answers = tried.flatMap((packs) => {
      lp.setColumn(one.packs, packs, packs);
      const next = solve(placed);
      return next ? [{ packs, next }] : [];
    });
    const best = answers.reduce<(typeof answers)[number] | null>(
      (a, b) => a && a.next.cost <= b.next.cost ? a : b,
      null,
    );
    if (!best) return null;
    lp.setColumn(one.packs, best.packs, best.packs);
    answer = best.next;
  }
  return answer && solve(placed);
}
