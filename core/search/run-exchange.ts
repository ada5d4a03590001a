import type { Highs } from "highs";
import { dayNumber } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { LinearModel } from "../solve/linear.ts";
import { withStandingModel } from "../solve/standing.ts";
import { G_PER_TONNE } from "../units.ts";
import { byStart, type Candidate, cropOf, type RunChoice } from "./candidate.ts";
import { counted } from "./counted.ts";
import type { Evaluation } from "./evaluate.ts";
import type { Finishing } from "./finish.ts";
import { loadedWith, maltOf } from "./loads.ts";
import { boardOf } from "./polish.ts";
import type { Problem } from "./problem.ts";
import { addClashRows, type Counted } from "./run-clashes.ts";
import { costOf, diveDown, spareRuns } from "./run-dive.ts";
import { runOptions } from "./run-options.ts";
import { limitLoads } from "./weigh-loads.ts";
import { startWeighing, type Weighing } from "./weighing.ts";

/** What a run that is only an option draws when its batch is set up: without any it would be left out. */
const SOME_G = 1;
/** A run of which the model makes so little is none. */
const NONE_T = 1e-7;
/** Share of the malt store that weight may fill: bags that are begun and orders for weeks to come take more than it weighs. */
const ROOM = 0.7;
/** Solves on the way down, about: each way ends in other runs, now one the best and now another. */
const WAYS_DOWN = [12, 25, 50] as const;

/** The allocation model of runs that may be made or not. */
interface Exchange {
  readonly weighing: Weighing;
  readonly runs: readonly RunChoice[];
  readonly loads: readonly number[];
  /** 0-or-1 column of each run; -1 where it is given, or where only its load is in the model. */
  readonly made: readonly number[];
}

/**
 * Cheaper runs for the brew days of a candidate and for what its plan makes and keeps, as far as the allocation model sees: runs given up, moved, or
 * made with other lots or malts, and others made beside them. First all of `runOptions` by their loads alone; then those that are of use as
 * whole runs, rounded one after another with a solve in between. Grain stores, bags that are begun and whole packs are not in the model, so what it
 * finds is a proposal. Null where it finds no runs that do, and where it was cancelled.
 */
export function exchangeRuns(
  by: Finishing,
  candidate: Candidate,
  plan: Plan,
  cancelled: () => boolean = () => false,
): Candidate | null {
  const { problem, evaluator, highs, effort } = by;
  if (!highs) return null;
  const { kept, evaluation: count } = counted(evaluator, candidate, effort.breadth);
  const evaluation = { ...count, status: doneBy(problem, plan) };
  if (cancelled()) return null;
  const options = runOptions(problem, kept);
  if (cancelled()) return null;
  const wide = exchangeOf(by, kept, evaluation, options, plan, false);
  if (cancelled()) return null;
  const point = withStandingModel(
    highs,
    wide.weighing.model,
    (lp) => lp.solve(wide.weighing.model.cost),
  );
  if (!point || cancelled()) return null;
  const useful = options.filter((_, i) =>
    (point.values[wide.loads[kept.runs.length + i] as number] as number) > NONE_T
  );
  const few = exchangeOf(by, kept, evaluation, useful, plan, true);
  const values = wholeRuns(highs, few, cancelled);
  return values && !cancelled() ? candidateOf(problem, kept, few, values) : null;
}

/** The model of the kept runs as whole ones, and of the options as whole ones or as loads that cost their part of a full run. */
function exchangeOf(
  { problem, evaluator, tanks }: Finishing,
  kept: Candidate,
  evaluation: Evaluation,
  options: readonly RunChoice[],
  plan: Plan,
  whole: boolean,
): Exchange {
  const runs = [...kept.runs, ...options];
  const old = kept.runs.length;
  const { drawG, draw2G } = evaluation.loads;
  const wide: Evaluation = {
    ...evaluation,
    loads: { drawG: [...drawG, ...options.map(() => SOME_G)], draw2G: [...draw2G, ...options.map(() => 0)] },
    maltG: (i) => i < old ? evaluation.maltG(i) : maltOf(problem, runs[i] as RunChoice, SOME_G, 0),
  };
  const made = runs.map(() => -1);
  let loads: number[] = [];
  const weighing = startWeighing(
    { problem, evaluator, evaluation: wide, runs, day: kept.day, tanks },
    false,
    // With a little to spare, so that what is made and kept still is in whole grams.
    { room: ROOM, tightDays: [], near: null, padded: new Set(problem.demands.keys()), chooses: false },
    (model) => {
      // As much as there is: what stores do not yield of it is seen when the proposal is stowed.
      loads = limitLoads(model, problem, wide, runs, new Float64Array(problem.lots.length), false, null);
      const list: Counted[] = [];
      runs.forEach((run, i) => {
        const load = loads[i] as number;
        const of = problem.materials[run.slot.malt]?.made;
        const isKept = i < old;
        if (run.fixed || !of) return;
        // The tail of a lot and what is beside it stay together, as they are.
        if (load < 0 || run.lot2 >= 0) {
          list.push({ run, column: model.column(0, 1, 1), perUnit: 1, isKept });
          return;
        }
        const leastT = model.lower[load] as number, mostT = model.upper[load] as number;
        const cost = (of.runCents + run.slot.nightCents) / 100;
        model.lower[load] = 0;
        if (!whole && i >= old) {
          model.cost[load] = (model.cost[load] as number) + cost / mostT;
          list.push({ run, column: load, perUnit: 1 / mostT, isKept });
          return;
        }
        const column = model.column(cost, 0, 1);
        made[i] = column;
        list.push({ run, column, perUnit: 1, isKept });
        model.row(-Infinity, 0, [[load, 1], [column, -mostT]]);
        model.row(0, Infinity, [[load, 1], [column, -leastT]]);
      });
      addClashRows(model, problem, list, runs.filter((run) => run.fixed));
      keepDrawing(model, problem, runs, loads, plan);
      return loads;
    },
  );
  return { weighing, runs, loads, made };
}

/**
 * Up to each day on which grain comes, every lot is drawn on as far as in the plan, but for one load: what lies in its way is a matter of
 * stores, which the model does not see. Lots whose tails are finished are drawn on as they were anyhow.
 */
function keepDrawing(
  model: LinearModel,
  problem: Problem,
  runs: readonly RunChoice[],
  loads: readonly number[],
  plan: Plan,
): void {
  const joined = new Set(runs.flatMap((run) => run.lot2 >= 0 ? [run.lot, run.lot2] : []));
  for (const day of new Set(problem.fills.map((fill) => fill.day))) {
    const begun = plan.runs.filter((run) => dayNumber(run.steepInAt.slice(0, 10)) <= day);
    const drawn = begun.flatMap((run) => run.draws);
    for (const lot of problem.lots) {
      if (lot.fromDay >= day || joined.has(lot.index)) continue;
      let leastG = drawn.reduce((sum, one) => one.lotId === lot.id ? sum + one.massG : sum, 0);
      let loadT = 0;
      const entries: [number, number][] = [];
      runs.forEach((run, i) => {
        const load = loads[i] as number;
        if (run.slot.steepDay > day) return;
        for (const one of run.fixed?.draws ?? []) if (one.lot === lot.index) leastG -= one.massG;
        if (load < 0 || run.lot !== lot.index) return;
        entries.push([load, 1]);
        loadT = Math.max(loadT, model.upper[load] as number);
      });
      const leastT = leastG / G_PER_TONNE - loadT;
      if (entries.length > 0 && leastT > 0) model.row(leastT, Infinity, entries);
    }
  }
}

/** Whole runs: the best of a few ways down; null where each ends in none. */
function wholeRuns(
  highs: Highs,
  { weighing: { model }, made, loads }: Exchange,
  cancelled: () => boolean,
): Float64Array | null {
  const runs = made.flatMap((column, i) => column < 0 ? [] : [{ made: column, load: loads[i] as number }]);
  return withStandingModel(highs, model, (lp) => {
    let best: Float64Array | null = null;
    for (const steps of WAYS_DOWN) {
      for (const run of runs) lp.setColumn(run.made, 0, 1);
      const dived = diveDown(model, lp, runs.map((run) => run.made), steps, cancelled);
      const spared = dived && spareRuns(model, lp, runs, dived, cancelled);
      if (spared && (!best || costOf(model, spared) < costOf(model, best))) best = spared;
    }
    return best;
  });
}

function candidateOf(
  problem: Problem,
  kept: Candidate,
  { runs, made, loads }: Exchange,
  values: Float64Array,
): Candidate {
  const fixed = runs.filter((run) => run.fixed);
  const board = boardOf(problem, { runs: fixed });
  const chosen = runs.flatMap((run, i) => {
    const column = made[i] as number, load = loads[i] as number;
    const isGone = column >= 0 && (values[column] as number) < 0.5;
    if (run.fixed || isGone || !board.fits(run.slot, cropOf(problem, run))) return [];
    board.put(run.slot, cropOf(problem, run));
    return [column < 0 ? run : loadedWith(problem, run, Math.round((values[load] as number) * G_PER_TONNE))];
  });
  return { ...kept, runs: [...fixed, ...chosen].sort(byStart) };
}

/** What a plan makes and keeps, by demand: 0 not made, 1 made, 2 promise held or malt delivered. */
export function doneBy({ demands }: Problem, { brews, maltDeliveries }: Plan): Uint8Array {
  const made = new Map(brews.map((brew) => [brew.id, brew.promiseHeld ? 2 : 1]));
  const sold = new Set(maltDeliveries.map((one) => one.contractId));
  return Uint8Array.from(
    demands,
    ({ kind, id }) => kind === "brew" ? made.get(id) ?? 0 : sold.has(id) ? 2 : 0,
  );
}
