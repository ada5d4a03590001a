import { G_PER_TONNE } from "../units.ts";
import type { Highs } from "highs";
import type { RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import type { TankChoice } from "./tanks.ts";
import type { DayChoice } from "./weigh-days.ts";
import { limitLoads } from "./weigh-loads.ts";
import type { Near } from "./weigh-near.ts";
import type { Source } from "./weigh-sources.ts";
import { sharedOut } from "./weigh-pools.ts";
import { solveWeighing, startWeighing, type Weighing, type WeighInput } from "./weighing.ts";
import type { Problem } from "./problem.ts";

/** Exact weights for a chosen set of runs and brew days. Extract in grams; of raw grain, weight. */
export interface Weights {
  drawG: number[];
  draw2G: number[];
  /** What each line takes from a named source, in grams of extract. */
  uses: { line: number; source: Source; extractG: number }[];
  /** Extract to be bought, by the day on which it is used. */
  purchases: { material: number; day: number; extractG: number }[];
  /** Whole orders, when the model counted packs itself. */
  orders: readonly WholeOrder[] | null;
  /** By demand: 0 not made, 1 made, 2 promise held too. */
  status: Uint8Array;
  /** Day of every demand, where the model chose the days itself; -1 for none. */
  day: Int32Array | null;
  /** The tanks of every brew made, where the model chose tanks itself. */
  tanks: ReadonlyMap<number, TankChoice> | null;
}

/** An order of so many packs, arriving on a day. */
export interface WholeOrder {
  readonly offer: number;
  readonly day: number;
  readonly packs: number;
}

/** How to weigh: what share of the malt store to fill, and whether the search's loads stand as they are. */
export interface Weighs {
  room: number;
  /** Days on which the store was seen to overflow: watched beside the regular ones when `room` < 1. */
  tightDays: readonly number[];
  fixedLoads: boolean;
  /** True to leave all weights as the search counted them. */
  counted?: boolean;
  /** Whether a small season is weighed by whole numbers. */
  whole: boolean;
  /** What the weights are to stay near, or null. */
  near: Near | null;
  /** All malt that is ordered, in whole packs, where that is settled; null where it is weighed. */
  orders: readonly WholeOrder[] | null;
  /** Demands that ask for a little more than they need, as rounding to grams would leave them without. */
  padded: ReadonlySet<number>;
}

/** Above this many uses the model leaves packs, brews and places to the steps around it. */
const WHOLE_USES = 700;
/** Grist lines of all brews that may be made, beyond which a season is no small one. */
const WHOLE_LINES = 80;

/** Whole numbers beyond which a model is no small one either: with eight thousand, not even the first point was found in 20 seconds. */
const MOST_WHOLES = 2000;

/**
 * The allocation model. Given which runs are made when and on which days brews lie, it chooses loads inside the vessels' limits,
 * which batch goes into which brew, substitutes inside their limits, and what is bought when; it minimises run costs by
 * weight, purchases, the reserve's price and the grain used up. For a small season it also decides, by whole numbers, which
 * brews are made, on which day and in which tank, which promises are kept, how many packs are ordered and how many bag places that takes; for a larger one
 * these are fixed before (`evaluation.status`) and after (packs); `room` < 1 then keeps that share of the malt store in view.
 * Null when it has no answer.
 */
export function weigh(highs: Highs, input: WeighInput, cutG: Float64Array, how: Weighs): Weights | null {
  const { evaluation, day } = input;
  const { weighing, loads } = modelOf(input, cutG, how);
  const { made, kept, lacks, chosen } = weighing;
  const values = solveWeighing(highs, weighing);
  if (!values) return null;
  const value = (column: number) => column < 0 ? 0 : Math.max(0, values[column] as number);
  const taken = sharedOut(
    weighing.uses.map((use) => ({ use, massT: value(use.column) })).filter(({ massT }) => massT > 0),
    ({ fixedT, column, perColumn }) => Math.max(0, fixedT + value(column) * perColumn),
  );
  const uses = taken.map(({ use: { line, source }, massT }) => ({
    line,
    source,
    extractG: massT * G_PER_TONNE,
  })).filter((use) => use.extractG > 0.5);
  const status = evaluation.status.slice();
  if (weighing.chooses) {
    status.fill(0);
    for (const demand of weighing.order) {
      status[demand] = value(made[demand] as number) < 0.5 ? 0 : value(kept[demand] as number) < 0.5 ? 1 : 2;
    }
  }
  for (const short of weighing.shortPromises) {
    if (value(short.column) * G_PER_TONNE > 1 && status[short.demand] === 2) status[short.demand] = 1;
  }
  for (const lack of lacks) if (value(lack.column) * G_PER_TONNE > 2) status[lack.demand] = 0;
  const loadG = (i: number) => Math.round(value(loads[i] as number) * G_PER_TONNE);
  const isSecond = (i: number) => (loads[i] as number) >= 0 && (evaluation.loads.draw2G[i] as number) > 0;
  const bought = weighing.sources.filter((source) => source.offer >= 0);
  return {
    drawG: evaluation.loads.drawG.map((drawG, i) =>
      isSecond(i) || (loads[i] as number) < 0 ? drawG : loadG(i)
    ),
    draw2G: evaluation.loads.draw2G.map((draw2G, i) => isSecond(i) ? loadG(i) : draw2G),
    uses,
    purchases: taken.filter(({ use, massT }) => use.source.offer >= 0 && massT * G_PER_TONNE > 0.5)
      .map(({ use, massT }) => ({
        material: use.source.material,
        day: use.day,
        extractG: massT * G_PER_TONNE,
      })),
    orders: how.orders ?? (weighing.whole
      ? bought.map((source) => ({
        offer: source.offer,
        day: source.ready,
        packs: Math.round(value(source.column)),
      }))
        .filter((order) => order.packs > 0)
      : null),
    status,
    ...(weighing.whole ? readChoices(day, chosen, value) : { day: null, tanks: null }),
  };
}

function readChoices(
  day: Int32Array,
  chosen: readonly DayChoice[],
  value: (column: number) => number,
) {
  const days = day.slice();
  const tanks = new Map<number, TankChoice>();
  for (const index of new Set(chosen.map((one) => one.demand))) days[index] = -1;
  for (const one of chosen) {
    if (value(one.column) < 0.5) continue;
    days[one.demand] = one.day;
    if (one.tanks.length > 0) tanks.set(one.demand, one.tanks);
  }
  return { day: days, tanks };
}

/** Whether the model of a candidate also decides by whole numbers: the season is small enough for it, and so is the model. */
export function isWhole(input: WeighInput, how: Weighs): boolean {
  const none = new Float64Array(input.problem.lots.length);
  return how.whole && isFew(input.problem, input.evaluation, input.runs) &&
    modelOf(input, none, how).weighing.whole;
}

/** The model, with the columns of its runs' loads. */
function modelOf(
  input: WeighInput,
  cutG: Float64Array,
  how: Weighs,
): { weighing: Weighing; loads: number[] } {
  const { problem, evaluation, runs } = input;
  let loads: number[] = [];
  const started = (whole: boolean) =>
    startWeighing(input, whole, { ...how, chooses: false }, (model) => {
      loads = limitLoads(model, problem, evaluation, runs, cutG, how.fixedLoads, how.near);
      return loads;
    });
  const weighing = started(how.whole && isFew(problem, evaluation, runs));
  const wholes = weighing.model.integer.reduce((sum, is) => sum + is, 0);
  const fit = weighing.whole && wholes > MOST_WHOLES ? started(false) : weighing;
  return { weighing: fit, loads };
}

/** Whether so little may be made, and of so few batches, that a model in whole numbers may be small. */
function isFew(problem: Problem, evaluation: Evaluation, runs: readonly RunChoice[]): boolean {
  const all = problem.demands.reduce(
    (sum, demand) => sum + (demand.days.length > 0 ? demand.lines.length : 0),
    0,
  );
  // By whole numbers everything that may be made is open again, however little of it the candidate makes.
  if (all > WHOLE_LINES) return false;
  let lines = 0;
  for (const demand of evaluation.order) lines += problem.demands[demand]?.lines.length ?? 0;
  return lines * (problem.batches.length + runs.length + lines) <= WHOLE_USES;
}
