import type { LinearModel } from "../solve/linear.ts";

/** Dual values as they are stored: row, value; rows without one have 0. */
export type Duals = readonly (readonly [row: number, value: number])[];

/**
 * The lower bound on `cost . x` that dual values prove, in plain arithmetic: sum of dual x row bound + sum over columns of the
 * least of (cost - dual . column) x within the column's bounds. True for any dual values whatever, so it does not hang on
 * the solver that found them; a value for an open side of a row counts as 0.
 */
export function provenBound(model: LinearModel, cost: readonly number[], duals: Duals): number {
  const reduced = Float64Array.from(cost);
  let bound = 0;
  for (const [row, value] of duals) {
    const side = value > 0 ? model.rowLower[row] : model.rowUpper[row];
    if (value === 0 || side === undefined || !Number.isFinite(side) || !Number.isFinite(value)) continue;
    bound += value * side;
    for (let at = model.start[row] as number; at < (model.start[row + 1] as number); at++) {
      const column = model.index[at] as number;
      reduced[column] = (reduced[column] as number) - value * (model.value[at] as number);
    }
  }
  for (let column = 0; column < reduced.length; column++) {
    const price = reduced[column] as number;
    bound += price * (price > 0 ? model.lower[column] as number : model.upper[column] as number);
  }
  return bound;
}
