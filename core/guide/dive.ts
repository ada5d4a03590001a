import { addCut, cutFinder } from "../bound/cuts.ts";
import type { StandingModel } from "../solve/standing.ts";
import { type BoundModel, STEP_DAYS } from "../bound/model.ts";

/** Most solves with cuts before any count is raised, and cuts added at a time. */
const CUT_ROUNDS = 8;
const CUTS_A_ROUND = 150;
/** Rounds that may pass with next to no gain, as a share. */
const MOST_IDLE = 2;
const NO_GAIN = 1e-4;
/** Solves on the way down: for what is made and kept, and for all. */
const DEMAND_DIVES = 20;
const DIVES = 60;
/** Steps of the grid between two counts of the same runs or orders that are raised at one time: one may do for both. */
const APART = 4;
/** What is so near a whole number counts as whole. */
const WHOLE = 1e-5;
/** A broken part so near the next whole number is raised with the others. */
const NEARLY = 0.9;

/** A column that counts something, and what it counts: two of one kind, few steps apart, may stand for each other. */
interface Counted {
  readonly column: number;
  readonly kind: string;
  readonly step: number;
}

/**
 * A point of the model whose counts are whole, or nearly all of them: cuts first, then the broken counts nearest to the next
 * whole number are raised to it, a few at a time, and the rest solved anew. First what is made and kept, then runs and orders. Null where
 * no point fits, and where it was cancelled.
 */
export function dive(
  of: BoundModel,
  lp: StandingModel,
  cancelled: () => boolean = () => false,
): Float64Array | null {
  const { model } = of;
  const solve = () => lp.solve(model.cost)?.values ?? null;
  let values = cutDown(of, lp, model.cost, cancelled);
  if (!values) return null;
  const demands = demandCounts(of), amounts = [...runCounts(of), ...orderCounts(of)];
  for (let left = DIVES; left > 0; left--) {
    if (cancelled()) return null;
    const broken = brokenOf(values, demands);
    const raised: number[] = broken.length > 0
      ? choose(broken, Math.max(1, left - DIVES + DEMAND_DIVES))
      : choose(brokenOf(values, amounts), left);
    if (raised.length === 0) break;
    values = raise(of, lp, values, raised, solve) ?? values;
  }
  return values;
}

/** The point of least cost after rounds of cuts; null where no point fits, and where it was cancelled. */
export function cutDown(
  of: BoundModel,
  lp: StandingModel,
  costs: readonly number[],
  cancelled: () => boolean,
): Float64Array | null {
  const find = cutFinder(of);
  const solve = () => lp.solve(costs)?.values ?? null;
  let values = solve();
  let cost = Infinity;
  for (let round = 0, idle = 0; values && round < CUT_ROUNDS && idle < MOST_IDLE; round++) {
    if (cancelled()) return null;
    const cuts = find(values, CUTS_A_ROUND);
    if (cuts.length === 0) break;
    for (const cut of cuts) addCut(of, cut);
    lp.addNewRows();
    values = solve();
    const now = values ? costOf(costs, values) : Infinity;
    idle = Math.abs(now - cost) > NO_GAIN * Math.abs(now) ? 0 : idle + 1;
    cost = now;
  }
  return values;
}

function costOf(costs: readonly number[], values: Float64Array): number {
  return costs.reduce((sum, cost, column) => sum + cost * (values[column] as number), 0);
}

/** Raises columns to the next whole number; where that does not fit, the first one is held below it instead. Null where the point stays. */
function raise(
  { model }: BoundModel,
  lp: StandingModel,
  values: Float64Array,
  columns: readonly number[],
  solve: () => Float64Array | null,
): Float64Array | null {
  const was = columns.map((column) => [model.lower[column], model.upper[column]] as [number, number]);
  columns.forEach((column, i) => {
    lp.setColumn(column, Math.floor(values[column] as number) + 1, (was[i] as [number, number])[1]);
  });
  const next = solve();
  if (next) return next;
  columns.forEach((column, i) => lp.setColumn(column, ...was[i] as [number, number]));
  const first = columns[0] as number;
  lp.setColumn(first, model.lower[first] as number, Math.floor(values[first] as number));
  return solve();
}

function demandCounts({ demands }: BoundModel): Counted[] {
  const columns = demands.flatMap(({ made, kept }) => kept < 0 || kept === made ? [made] : [made, kept]);
  return columns.map((column) => ({ column, kind: `demand ${column}`, step: 0 }));
}

function runCounts({ runs }: BoundModel): Counted[] {
  return runs.map(({ count, malt, lots, step }) => ({
    column: count,
    kind: `run ${malt} ${lots.join(" ")}`,
    step,
  }));
}

function orderCounts({ sources }: BoundModel): Counted[] {
  return sources.flatMap(({ offer, whole, day }) =>
    offer < 0 ? [] : [{ column: whole, kind: `order ${offer}`, step: Math.floor(day / STEP_DAYS) }]
  );
}

interface Broken extends Counted {
  /** What is above the whole number below. */
  readonly part: number;
}

/** Those that are no whole numbers, the nearest to the next one first. */
function brokenOf(values: Float64Array, counted: readonly Counted[]): Broken[] {
  return counted.flatMap((one) => {
    const value = values[one.column] as number;
    const part = value - Math.floor(value + WHOLE);
    return part > WHOLE ? [{ ...one, part }] : [];
  }).sort((a, b) => b.part - a.part || a.step - b.step || a.column - b.column);
}

/** Columns to raise at once, so that about `left` times will do for all. */
function choose(broken: readonly Broken[], left: number): number[] {
  const most = Math.ceil(broken.reduce((sum, one) => sum + one.part, 0) / left);
  const chosen: Broken[] = [];
  for (const one of broken) {
    if (chosen.length >= most && one.part < NEARLY) break;
    if (chosen.some(({ kind, step }) => kind === one.kind && Math.abs(step - one.step) < APART)) continue;
    chosen.push(one);
  }
  return chosen.map(({ column }) => column);
}
