import type { Highs } from "highs";
import { LinearModel, solveLinear } from "../solve/linear.ts";
import type { RunChoice } from "./candidate.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import type { TankBoard } from "./tanks.ts";
import { type Choice, chooseDays } from "./weigh-days.ts";
import { limitLoads } from "./weigh-loads.ts";
import { promiseRows, requireRows } from "./weigh-promises.ts";
import { priceReserve } from "./weigh-reserve.ts";
import { limitPlaces, thinPlaces } from "./weigh-places.ts";
import { type Source, sourcesOf, usefulArrivals } from "./weigh-sources.ts";
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
  orders: { offer: number; day: number; packs: number }[] | null;
  /** By demand: 0 not made, 1 made, 2 promise held too. */
  status: Uint8Array;
  /** Day of every demand, where the model chose the days itself; -1 for none. */
  day: Int32Array | null;
  /** The tank of every brew made, where the model chose tanks itself. */
  tank: ReadonlyMap<number, number> | null;
}

export const T = 1e6;

/** How to weigh: what share of the malt store to fill, and whether the search's loads stand as they are. */
export interface Weighs {
  room: number;
  fixedLoads: boolean;
}

/** Everything one weighing shares. Costs are whole currency units, weights tonnes. */
export interface Weighing {
  problem: Problem;
  evaluator: Evaluator;
  evaluation: Evaluation;
  runs: readonly RunChoice[];
  day: Int32Array;
  /** Demands that may be made, and the days each may be made on. */
  order: readonly number[];
  daysOf: (demand: number) => readonly number[];
  tanks: TankBoard;
  model: LinearModel;
  /** Whole packs, whole brews, bag places: small seasons only. */
  whole: boolean;
  sources: Source[];
  /** By line: its uses. */
  uses: Use[];
}

/** A line's use of a source. */
export interface Use {
  line: number;
  demand: number;
  day: number;
  source: Source;
  column: number;
}

/** Price of a tonne of extract that a line lacks, above that of any promise. */
const LINE_PRICE = 1e7;
/** Too small to matter in money; a price that grows with the square of the wait hands batches out first in, first out. */
const WAIT_PRICE = 2e-7;
/** A day's price on bought malt, a tonne: of plans that cost the same, the one that uses home malt first and orders late. */
const EARLY_PRICE = 0.02;
/** Above this many uses the model leaves packs, brews and places to the steps around it. */
const WHOLE_USES = 700;

/**
 * The allocation model. Given which runs are made when and on which days brews lie, it chooses loads inside the vessels' limits,
 * which batch goes into which brew, substitutes inside their limits, and what is bought when; it minimises run costs by
 * weight, purchases, the reserve's price and the grain used up. For a small season it also decides, by whole numbers, which
 * brews are made, on which day and in which tank, which promises are kept, how many packs are ordered and how many bag places that takes; for a larger one
 * these are fixed before (`evaluation.status`) and after (packs); `room` < 1 then keeps that share of the malt store in view.
 * Null when it has no answer.
 */
export function weigh(
  highs: Highs,
  problem: Problem,
  evaluator: Evaluator,
  runs: readonly RunChoice[],
  evaluation: Evaluation,
  day: Int32Array,
  cutG: Float64Array,
  tanks: TankBoard,
  how: Weighs = { room: 1, fixedLoads: false },
): Weights | null {
  const model = new LinearModel();
  const whole = countUses(problem, evaluation, runs) <= WHOLE_USES;
  const daysOf = (demand: number) => daysFor(problem, demand, day, whole);
  const loads = limitLoads(model, problem, evaluation, runs, cutG, how.fixedLoads);
  const weighing: Weighing = {
    problem,
    evaluator,
    evaluation,
    runs,
    day,
    model,
    whole,
    order: whole
      ? problem.demands.map((demand) => demand.index).filter((index) => daysOf(index).length > 0)
      : evaluation.order,
    daysOf,
    tanks,
    sources: sourcesOf(problem, runs, evaluation, loads),
    uses: [],
  };
  addPurchases(weighing);
  const { made, kept, lacks, chosen } = meetLines(weighing);
  promiseRows(weighing, made, kept);
  requireRows(weighing);
  drawSources(weighing);
  priceReserve(weighing);
  if (weighing.whole) limitPlaces(weighing);
  else if (how.room < 1) thinPlaces(weighing, how.room);

  const limits = whole ? { nodes: 3000, seconds: 20 } : { seconds: 60 };
  let answer = solveLinear(highs, model, limits);
  if (whole && answer.values) {
    // The promises' prices drown the cents: with the promises fixed, money is weighed again alone.
    fixPromises(model, answer.values, [...made, ...kept]);
    const again = solveLinear(highs, model, limits);
    if (again.values) answer = again;
  }
  if (!answer.values) return null;
  const values = answer.values;
  const value = (column: number) => column < 0 ? 0 : Math.max(0, values[column] as number);
  const uses = weighing.uses.map((use) => ({
    line: use.line,
    source: use.source,
    extractG: value(use.column) * T,
  }))
    .filter((use) => use.extractG > 0.5);
  const status = evaluation.status.slice();
  if (weighing.whole) {
    status.fill(0);
    for (const demand of weighing.order) {
      status[demand] = value(made[demand] as number) < 0.5 ? 0 : value(kept[demand] as number) < 0.5 ? 1 : 2;
    }
  }
  for (const lack of lacks) if (value(lack.column) * T > 2) status[lack.demand] = 0;
  const loadG = (i: number) => Math.round(value(loads[i] as number) * T);
  const isSecond = (i: number) => (loads[i] as number) >= 0 && (evaluation.loads.draw2G[i] as number) > 0;
  const bought = weighing.sources.filter((source) => source.offer >= 0);
  return {
    drawG: evaluation.loads.drawG.map((drawG, i) =>
      isSecond(i) || (loads[i] as number) < 0 ? drawG : loadG(i)
    ),
    draw2G: evaluation.loads.draw2G.map((draw2G, i) => isSecond(i) ? loadG(i) : draw2G),
    uses,
    purchases: weighing.uses.filter((use) => use.source.offer >= 0 && value(use.column) * T > 0.5)
      .map((use) => ({ material: use.source.material, day: use.day, extractG: value(use.column) * T })),
    orders: weighing.whole
      ? bought.map((source) => ({
        offer: source.offer,
        day: source.ready,
        packs: Math.round(value(source.column)),
      }))
        .filter((order) => order.packs > 0)
      : null,
    status,
    ...(whole ? readChoices(problem, day, chosen, value) : { day: null, tank: null }),
  };
}

/** Holds 0-or-1 columns at what they are, at no price. */
function fixPromises(model: LinearModel, values: Float64Array, columns: readonly number[]): void {
  for (const column of columns) {
    if (column < 0) continue;
    const value = Math.round(values[column] as number);
    model.lower[column] = value;
    model.upper[column] = value;
    model.cost[column] = 0;
  }
}

/** Days a demand may be made on: in a small season all of its window, unless it takes raw grain, which is handed out before. */
function daysFor(problem: Problem, index: number, day: Int32Array, whole: boolean): readonly number[] {
  const demand = problem.demands[index] as Problem["demands"][number];
  const raw = demand.lines.some((line) => !problem.materials[line.material]?.malt);
  if (whole && !raw && !demand.booked) return demand.days;
  return (day[index] as number) >= 0 ? [day[index] as number] : [];
}

function readChoices(
  problem: Problem,
  day: Int32Array,
  chosen: readonly Choice[],
  value: (column: number) => number,
) {
  const days = day.slice();
  const tank = new Map<number, number>();
  for (const index of new Set(chosen.map((one) => one.demand))) days[index] = -1;
  for (const one of chosen) {
    if (value(one.column) < 0.5) continue;
    days[one.demand] = one.day;
    if (one.tank >= 0) tank.set(one.demand, one.tank);
  }
  for (const demand of problem.demands) {
    if (demand.kind === "sale" && !chosen.some((one) => one.demand === demand.index)) {
      days[demand.index] = day[demand.index] as number;
    }
  }
  return { day: days, tank };
}

function countUses(problem: Problem, evaluation: Evaluation, runs: readonly RunChoice[]): number {
  let lines = 0;
  for (const demand of evaluation.order) lines += problem.demands[demand]?.lines.length ?? 0;
  return lines * (problem.batches.length + runs.length + lines);
}

/** Purchases as sources: packs in whole numbers with freight for a small season, free amounts otherwise. */
function addPurchases(of: Weighing): void {
  const { problem, evaluator, model } = of;
  const days = new Map<number, number[]>();
  // No order ever brings more than all lines together take and all floors hold.
  const neededG = evaluator.table.need.reduce((sum, needG) => sum + needG, 0);
  const neededT = (neededG + problem.materials.reduce((sum, material) => sum + material.floorG, 0)) / T;
  for (const demand of of.order) {
    for (const line of problem.demands[demand]?.lines ?? []) {
      for (const material of [line.material, ...line.substitutes.map((one) => one.material)]) {
        if (!problem.materials[material]?.malt) continue;
        days.set(material, [...(days.get(material) ?? []), ...of.daysOf(demand)]);
      }
    }
  }
  for (const [material, uses] of days) {
    const offers = problem.materials[material]?.offers ?? [];
    for (const offer of offers) {
      for (const arrival of usefulArrivals(offer.arrivals, uses, of.whole)) {
        const packT = offer.packG / T;
        let column: number;
        if (of.whole) {
          const most = 200;
          column = model.column(offer.packCents / 100, 0, most, true);
          const placed = model.column(offer.freightCents / 100, 0, 1, true);
          model.row(-Infinity, 0, [[column, 1], [placed, -most]]);
          model.row(0, Infinity, [[column, 1], [placed, -offer.leastPacks]]);
        } else {
          const market = evaluator.markets[material];
          column = model.column((market?.centsPerExtractG ?? 0) * T / 100, 0, neededT);
        }
        of.sources.push({
          material,
          arrives: arrival,
          ready: arrival,
          last: arrival + offer.shelfDays,
          fixedT: 0,
          column,
          perColumn: of.whole ? packT * offer.extract : 1,
          perG: offer.extract,
          home: false,
          share: null,
          batchId: null,
          run: -1,
          offer: offer.index,
        });
      }
    }
  }
}

/**
 * Every line of a made brew is met in extract on its day, substitutes inside their limits; a brew is made on one day at most,
 * in a tank. Returns the made and kept columns, what lines may lack, and the choices of day and tank.
 */
function meetLines(of: Weighing) {
  const { problem, evaluator, evaluation, model } = of;
  const { table } = evaluator;
  const made = new Int32Array(problem.demands.length).fill(-1);
  const kept = new Int32Array(problem.demands.length).fill(-1);
  const lacks: { demand: number; column: number }[] = [];
  const levels = levelPrices(of);
  const chosen = of.whole ? chooseDays(of) : [];
  for (const index of of.order) {
    const demand = problem.demands[index] as Problem["demands"][number];
    if (!of.whole && evaluation.status[index] === 0) continue;
    if (of.whole) {
      made[index] = model.column(
        -(levels.made[demand.class - 1] as number) - demand.saleCents / 100,
        0,
        1,
        true,
      );
      const counts = demand.kind === "brew" && demand.class < 4;
      kept[index] = model.column(counts ? -levels.promise : 0, 0, 1, true);
      model.row(-Infinity, 0, [[kept[index] as number, 1], [made[index] as number, -1]]);
      const days = chosen.filter((one) => one.demand === index);
      model.row(0, 0, [[made[index] as number, -1], ...days.map((one): [number, number] => [one.column, 1])]);
    }
    demand.lines.forEach((line, l) => {
      const at = (table.first[index] as number) + l;
      if (!problem.materials[line.material]?.malt) {
        // Raw grain is handed out before: without it the brew is not made.
        const lacksRaw = evaluation.status[index] === 0 ||
          evaluation.deficits.some((one) => one.line === at) &&
            (problem.materials[line.material]?.offers.length ?? 0) === 0;
        if (lacksRaw && of.whole) model.row(0, 0, [[made[index] as number, 1]]);
        return;
      }
      const needT = (table.need[at] as number) / T;
      const replaced = line.substitutes.map((): [number, number][] => []);
      for (const on of of.daysOf(index)) {
        const entries: [number, number][] = [];
        const use = (material: number): [number, number][] => {
          const columns: [number, number][] = [];
          for (const source of of.sources) {
            if (source.material !== material || source.ready > on || source.last < on) continue;
            const wait = on - source.ready;
            const early = source.offer >= 0 && !of.whole ? EARLY_PRICE * (problem.endDay - on) : 0;
            const column = model.column(WAIT_PRICE * wait * wait + early, 0, needT);
            of.uses.push({ line: at, demand: index, day: on, source, column });
            columns.push([column, 1]);
          }
          entries.push(...columns);
          return columns;
        };
        use(line.material);
        line.substitutes.forEach((one, i) => {
          if (problem.materials[one.material]?.malt) {
            (replaced[i] as [number, number][]).push(...use(one.material));
          }
        });
        if (of.whole) {
          const here = chosen.filter((one) => one.demand === index && one.day === on);
          model.row(0, 0, [...entries, ...here.map((one): [number, number] => [one.column, -needT])]);
        } else {
          // A line that cannot be met after all costs its brew, not the whole answer.
          const lack = model.column(LINE_PRICE, 0, needT);
          lacks.push({ demand: index, column: lack });
          model.row(needT, needT, [...entries, [lack, 1]]);
        }
      }
      line.substitutes.forEach((one, i) =>
        model.row(-Infinity, one.mostShare * needT, replaced[i] as [number, number][])
      );
    });
  }
  return { made, kept, lacks, chosen };
}

/** Prices that put the goals in order: each level outweighs everything below it. */
function levelPrices(of: Weighing): { made: number[]; promise: number } {
  const brews = of.order.length + 1;
  const money = 20_000;
  const tail = money;
  const promise = tail * brews;
  const third = promise * brews;
  return { made: [third * brews * brews, third * brews, third, tail], promise };
}

/** No source gives more than it holds. */
function drawSources(of: Weighing): void {
  const drawn = new Map<Source, [number, number][]>();
  for (const use of of.uses) drawn.set(use.source, [...(drawn.get(use.source) ?? []), [use.column, 1]]);
  for (const [source, entries] of drawn) {
    if (source.column >= 0) entries.push([source.column, -source.perColumn]);
    of.model.row(-Infinity, Math.max(source.column >= 0 ? -Infinity : 0, source.fixedT), entries);
  }
}
