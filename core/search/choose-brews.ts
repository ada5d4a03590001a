import type { Highs } from "highs";
import { type LinearAnswer, solveLinear } from "../solve/linear.ts";
import type { Candidate } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import { counted } from "./counted.ts";
import type { Finishing } from "./finish.ts";
import { limitLoads } from "./weigh-loads.ts";
import { PROMISES, startWeighing, TAIL, type Weighing } from "./weighing.ts";

/** A count this little below a whole number is rounding. */
const TOLERANCE = 1e-6;
/** A brew this near to made, or to not made, is so. */
const WHOLE = 1e-6;
const LIMITS = { nodes: 20, seconds: 60 };
const COUNT_GAP = 0.99;
/** Promises are counted exactly, the tail behind them as far as it comes with them. */
const PROMISES_GAP = 0.5;

/**
 * Which brews a candidate's runs make on their days, and which promises they keep, by whole numbers: class by class the most, then
 * promises with the tail. By demand 0 not made, 1 made, 2 promise held; for `finish`. A goal that no weights raise above what the search
 * counted is not looked at; a brew with raw grain that the search gave up stays so, as that grain is handed out before. Null where nothing above
 * both the count and `beat` (brews of class 1 to 3, promises) was found, or it was cancelled. For a larger season, a second or more; a smaller
 * one's weights choose for themselves.
 */
export function chooseBrews(
  by: Finishing,
  candidate: Candidate,
  beat: readonly number[],
  cancelled: () => boolean = () => false,
): Uint8Array | null {
  const { problem, evaluator, highs, effort } = by;
  if (!highs) return null;
  const { kept: { runs, day }, evaluation } = counted(evaluator, candidate, effort.breadth);
  const weighing = startWeighing(
    { problem, evaluator, evaluation, runs, day, tanks: by.tanks },
    false,
    // With a little to spare, so that what is chosen is still there in whole grams.
    { room: 1, tightDays: [], near: null, padded: new Set(problem.demands.keys()), chooses: true },
    (model) => limitLoads(model, problem, evaluation, runs, evaluation.cutG, false, null),
  );
  const values = mostOfGoals(highs, weighing, beat, cancelled);
  return values && statusOf(weighing, evaluation, values);
}

function mostOfGoals(
  highs: Highs,
  weighing: Weighing,
  beat: readonly number[],
  cancelled: () => boolean,
): Float64Array | null {
  const { model, goals } = weighing;
  const has = countsOf(weighing);
  let values: Float64Array | null = null;
  // `same`: each goal so far is what the search counted. `tied`: it is not yet above what there is to beat.
  let same = true, tied = true;
  for (let goal = 0; goal <= PROMISES; goal++) {
    const columns = goals[goal] ?? [];
    const least = (beat[goal] as number) + (goal === PROMISES ? 1 : 0);
    model.cost.fill(0);
    for (const column of columns) model.cost[column] = -1;
    const tail = goal === PROMISES ? goals[TAIL] ?? [] : [];
    for (const column of tail) model.cost[column] = -1 / (tail.length + 1);
    const { optimal, values: parts } = inParts(highs, weighing);
    if (!optimal || !parts || cancelled()) return tied ? null : values;
    const most = Math.floor(sumOf(parts, columns) + TOLERANCE);
    if (tied && most < least) return null;
    let count = has[goal] as number;
    if (!same || most !== count) {
      const absoluteGap = goal === PROMISES ? PROMISES_GAP : COUNT_GAP;
      const found = inWholes(highs, weighing, parts, absoluteGap) ??
        solveLinear(highs, model, { ...LIMITS, absoluteGap }).values;
      if (!found) return tied ? null : values;
      values = found;
      count = Math.round(sumOf(found, columns));
      same &&= count === has[goal];
    }
    if (tied && count < least) return null;
    tied &&= count <= (beat[goal] as number);
    model.row(count, Infinity, columns.map((column) => [column, 1]));
  }
  return values;
}

/** The point of the greatest count, brews in parts allowed; null where there is none. */
function inParts(highs: Highs, { model }: Weighing): LinearAnswer {
  const whole = model.integer.slice();
  model.integer.fill(0);
  const answer = solveLinear(highs, model, LIMITS);
  whole.forEach((is, column) => model.integer[column] = is);
  return answer;
}

/** A point of whole brews: those that the point in parts makes or leaves whole stay so, and the few others are chosen. */
function inWholes(
  highs: Highs,
  { model }: Weighing,
  parts: Float64Array,
  absoluteGap: number,
): Float64Array | null {
  const lower = model.lower.slice(), upper = model.upper.slice();
  model.integer.forEach((is, column) => {
    const value = parts[column] as number;
    const near = Math.round(value);
    if (is && Math.abs(value - near) < WHOLE) model.lower[column] = model.upper[column] = near;
  });
  const { values } = solveLinear(highs, model, { ...LIMITS, absoluteGap });
  lower.forEach((one, column) => model.lower[column] = one);
  upper.forEach((one, column) => model.upper[column] = one);
  return values;
}

function sumOf(values: Float64Array, columns: readonly number[]): number {
  return columns.reduce((sum, column) => sum + (values[column] as number), 0);
}

/** What the search counted of each goal. */
function countsOf({ problem, goals, order, made, kept, evaluation }: Weighing): number[] {
  const has = new Set<number>();
  for (const index of order) {
    const is = evaluation.status[index] as number;
    if (is > 0) has.add(made[index] as number);
    if (is === 2 && problem.demands[index]?.kind === "brew") has.add(kept[index] as number);
  }
  return goals.map((columns) => columns.filter((column) => has.has(column)).length);
}

function statusOf({ order, made, kept }: Weighing, evaluation: Evaluation, values: Float64Array): Uint8Array {
  const status = evaluation.status.slice();
  const is = (column: number) => column >= 0 && (values[column] as number) > 0.5;
  for (const index of order) {
    status[index] = !is(made[index] as number) ? 0 : is(kept[index] as number) ? 2 : 1;
  }
  return status;
}
