import type { LinearModel } from "../solve/linear.ts";
import type { StandingModel } from "../solve/standing.ts";

/** What is so near a whole number counts as whole; what is so near 1 is raised with the others. */
const WHOLE = 1e-6;
const NEARLY = 0.95;
/** Cost that only what lacks comes to, whole currency units: what a gram of a brew or a promise lacks is priced above any run. */
const LACKING = 1000;
/** Runs that may be tried in vain in a row before the rest is left alone. */
const IDLE = 10;

/**
 * Makes 0-or-1 columns whole: those nearest to 1 are raised to it, a few at a time, so that about `steps` times will do for all, and the rest is solved
 * anew; where that does not fit, or makes something lack, the first of them is put to 0 instead. Null where no point fits, and
 * where it was cancelled. Whole-number columns of the model are taken as continuous.
 */
export function diveDown(
  model: LinearModel,
  lp: StandingModel,
  columns: readonly number[],
  steps: number,
  cancelled: () => boolean,
): Float64Array | null {
  const solve = () => lp.solve(model.cost)?.values ?? null;
  let values = solve();
  for (let left = steps; values && !cancelled(); left--) {
    const broken = brokenOf(values, columns);
    if (broken.length === 0) return values;
    const parts = broken.reduce((sum, { part }) => sum + part, 0);
    const most = Math.max(1, Math.ceil(parts / Math.max(1, left)));
    const raised = broken.filter(({ part }, i) => i < most || part > NEARLY).map(({ column }) => column);
    const allowed = costOf(model, values) + LACKING;
    values = raise(lp, raised, () => {
      const next = solve();
      return next && costOf(model, next) <= allowed ? next : null;
    }, solve);
  }
  return null;
}

/** Columns that are no whole numbers, the nearest to 1 first. */
function brokenOf(values: Float64Array, columns: readonly number[]): { column: number; part: number }[] {
  return columns.flatMap((column) => {
    const part = values[column] as number;
    return part > WHOLE && part < 1 - WHOLE ? [{ column, part }] : [];
  }).sort((a, b) => b.part - a.part || a.column - b.column);
}

/** All columns at 1; or else the first; or else that at 0; or else at 1, whatever then lacks. */
function raise(
  lp: StandingModel,
  columns: readonly number[],
  solveWell: () => Float64Array | null,
  solve: () => Float64Array | null,
): Float64Array | null {
  const first = columns.slice(0, 1);
  const tryAt = (list: readonly number[], at: number) => {
    for (const column of list) lp.setColumn(column, at, at);
    const values = solveWell();
    if (!values) { for (const column of list) lp.setColumn(column, 0, 1); }
    return values;
  };
  const found = tryAt(columns, 1) ?? (columns.length > 1 ? tryAt(first, 1) : null) ?? tryAt(first, 0);
  if (found) return found;
  for (const column of first) lp.setColumn(column, 1, 1);
  return solve();
}

/** Spares runs that cost more than they bring, the least loaded first: without each the rest is solved anew. Runs are columns of 0 or 1 and of loads. */
export function spareRuns(
  model: LinearModel,
  lp: StandingModel,
  runs: readonly { readonly made: number; readonly load: number }[],
  from: Float64Array,
  cancelled: () => boolean,
): Float64Array {
  let best = from;
  const isMade = ({ made }: (typeof runs)[number]) => (from[made] as number) > 0.5;
  for (const run of runs) lp.setColumn(run.made, Number(isMade(run)), Number(isMade(run)));
  const share = ({ load }: (typeof runs)[number]) => (from[load] as number) / (model.upper[load] as number);
  let idle = 0;
  for (const { made } of runs.filter(isMade).sort((a, b) => share(a) - share(b) || a.made - b.made)) {
    if (idle >= IDLE || cancelled()) break;
    lp.setColumn(made, 0, 0);
    const values = lp.solve(model.cost)?.values;
    if (values && costOf(model, values) < costOf(model, best) - WHOLE) {
      best = values;
      idle = 0;
    } else {
      lp.setColumn(made, 1, 1);
      idle++;
    }
  }
  return best;
}

/** What a point costs. */
export function costOf({ cost }: LinearModel, values: Float64Array): number {
  return values.reduce((sum, value, column) => sum + value * (cost[column] as number), 0);
}
