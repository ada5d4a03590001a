import type { Highs } from "highs";
import { LinearModel, solveLinear } from "../solve/linear.ts";
import type { RunChoice } from "./candidate.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import type { Problem } from "./problem.ts";
import type { TankBoard } from "./tanks.ts";
import type { DayChoice } from "./weigh-days.ts";
import { meetLines } from "./weigh-lines.ts";
import { type Near, sourcesNear } from "./weigh-near.ts";
import { levelPlaces, limitPlaces } from "./weigh-places.ts";
import { promiseRows, requireRows } from "./weigh-promises.ts";
import { type Pool, pooledSources, type Spoilt } from "./weigh-pools.ts";
import { addPurchases, type StandingOrder } from "./weigh-purchases.ts";
import { priceReserve } from "./weigh-reserve.ts";
import { type Source, sourcesOf } from "./weigh-sources.ts";

/** Places of the last goals behind those of the three classes. */
export const PROMISES = 3;
export const TAIL = 4;

/** What is weighed: runs that are given, or that the model chooses, and the days of brews. */
export interface WeighInput {
  problem: Problem;
  evaluator: Evaluator;
  /** Raw grain, promises and the grain's stowage as the search counted them. */
  evaluation: Evaluation;
  runs: readonly RunChoice[];
  day: Int32Array;
  tanks: TankBoard;
  /** Runs whose malt is not home-grown although their own lot is: parts of a run whose other part is of a lot from elsewhere. */
  mixed?: ReadonlySet<RunChoice>;
}

/** Everything one weighing shares. Costs are whole currency units, weights tonnes. */
export interface Weighing extends WeighInput {
  model: LinearModel;
  /** Demands that may be made, and the days each may be made on. */
  order: readonly number[];
  daysOf: (demand: number) => readonly number[];
  /** Whole packs, whole brews, bag places: small seasons only. */
  whole: boolean;
  /** Whether the model decides which brews are made and which promises are kept: in a small season always. */
  chooses: boolean;
  sources: Source[];
  /** By line: its uses. */
  uses: Use[];
  /** By demand: 0-or-1 columns of brews made and promises kept; -1 where that is given. */
  made: Int32Array;
  kept: Int32Array;
  /** The same columns by goal: brews made of class 1, 2 and 3, promises kept, brews made of the tail. */
  goals: number[][];
  /** What lines may lack, where brews are given. */
  lacks: { demand: number; column: number }[];
  /** What promises that are to be kept may lack of home-grown grain, tonnes, where promises are given. */
  shortPromises: { demand: number; column: number }[];
  /** Batches that are not told apart, as far as lines draw on them; and what goes bad of them. */
  pools: Pool[];
  spoilt: Spoilt[];
  /** Days and tanks to choose from, where the model chooses them. */
  chosen: DayChoice[];
  near: Near | null;
  /** All malt that is ordered, where that is settled; null where it is weighed. */
  orders: readonly StandingOrder[] | null;
  /** Demands that ask for a little more than they need. */
  padded: ReadonlySet<number>;
  /** The sources a line may draw a material from, before their days are looked at. */
  sourcesFor: (line: number, material: number) => readonly Source[];
}

/** A line's use of a source. */
export interface Use {
  line: number;
  demand: number;
  day: number;
  source: Source;
  column: number;
}

/**
 * Begins the allocation model. `loads` adds the runs' columns and rows and returns each run's load column, -1 for a fixed load.
 * In a larger season `room` < 1 keeps that share of the malt store in view, on regular days and on `tightDays`.
 */
export function startWeighing(
  input: WeighInput,
  whole: boolean,
  { room, tightDays, near, orders = null, padded, chooses }: {
    room: number;
    tightDays: readonly number[];
    near: Near | null;
    orders?: readonly StandingOrder[] | null;
    padded: ReadonlySet<number>;
    chooses: boolean;
  },
  loads: (model: LinearModel) => number[],
): Weighing {
  const { problem, evaluation, day } = input;
  const model = new LinearModel();
  const daysOf = (demand: number) => daysFor(problem, demand, day, whole);
  const weighing: Weighing = {
    ...input,
    model,
    whole,
    chooses: whole || chooses,
    order: whole
      ? problem.demands.map((demand) => demand.index).filter((index) => daysOf(index).length > 0)
      : evaluation.order,
    daysOf,
    sources: sourcesOf(input, loads(model)),
    uses: [],
    made: new Int32Array(problem.demands.length).fill(-1),
    kept: new Int32Array(problem.demands.length).fill(-1),
    goals: [[], [], [], [], []],
    lacks: [],
    shortPromises: [],
    pools: [],
    spoilt: [],
    chosen: [],
    near,
    orders,
    padded,
    sourcesFor: () => [],
  };
  addPurchases(weighing);
  if (near) weighing.sourcesFor = sourcesNear(weighing, near.reach);
  else weighing.sourcesFor = whole ? allSources(weighing) : pooledSources(weighing);
  meetLines(weighing);
  promiseRows(weighing);
  requireRows(weighing);
  priceReserve(weighing);
  if (whole) limitPlaces(weighing);
  else if (room < 1) levelPlaces(weighing, room, tightDays);
  return weighing;
}

/** Every source of the material. */
function allSources({ sources }: Weighing): Weighing["sourcesFor"] {
  const of = Map.groupBy(sources, (source) => source.material);
  return (_, material) => of.get(material) ?? [];
}

const WHOLE_LIMITS = { nodes: 3000, seconds: 20 };

/** Solves it; null when there is no answer. Where the model decides what is made, the goals come first and money within them. */
export function solveWeighing(highs: Highs, { model, whole, goals, near }: Weighing): Float64Array | null {
  if (!whole) return solveLinear(highs, model, { seconds: 60, brisk: near !== null }).values;
  const money = model.cost.slice();
  const levels = goals.filter((level) => level.length > 0);
  let price = 1;
  model.cost.fill(0);
  // Each level outweighs all below it.
  for (const level of [...levels].reverse()) {
    for (const column of level) model.cost[column] = -price;
    price *= 1 + level.length;
  }
  const { values } = solveLinear(highs, model, { ...WHOLE_LIMITS, absoluteGap: 0.5 });
  if (!values) return null;
  money.forEach((cents, column) => model.cost[column] = cents);
  for (const level of levels) {
    const reached = level.reduce((sum, column) => sum + Math.round(values[column] as number), 0);
    model.row(reached, level.length, level.map((column) => [column, 1]));
  }
  return solveLinear(highs, model, WHOLE_LIMITS).values ?? values;
}

/** Days a demand may be made on: in a small season all of its window, unless it takes raw grain, which is handed out before. */
function daysFor(problem: Problem, index: number, day: Int32Array, whole: boolean): readonly number[] {
  const demand = problem.demands[index] as Problem["demands"][number];
  const raw = demand.lines.some((line) => !problem.materials[line.material]?.malt);
  if (whole && !raw && !demand.booked) return demand.days;
  return (day[index] as number) >= 0 ? [day[index] as number] : [];
}
