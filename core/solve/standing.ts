import type { Highs } from "highs";
import { type LinearModel, sourceOf } from "./linear.ts";

/** A solved linear model: where its columns stand, and the dual value of each row. */
export interface LinearPoint {
  readonly values: Float64Array;
  readonly duals: Float64Array;
}

/** A linear model that stays in the solver while rows are added and costs change, so that each solve goes on from the last. */
export interface StandingModel {
  /** The point of least cost; null when there is none, or when the solver did not get there in its steps. */
  solve(cost: readonly number[]): LinearPoint | null;
  /** Tells the solver of rows that were added to the model since. */
  addNewRows(): void;
  setRow(row: number, lower: number, upper: number): void;
  setColumn(column: number, lower: number, upper: number): void;
  /** Dual values that show that no point fits, after a solve without an answer; null where the solver has none. */
  ray(): Float64Array | null;
}

/** How the solver says that it failed by itself: in one of some thousand solves, it was seen to. */
const FAILED = "run failed with HiGHS status";

/** Steps of the simplex method in one solve: many times what a season of 120 brews takes. */
const MOST_STEPS = 200_000;

/** Holds `model` in the solver while `work` runs. Whole-number columns are taken as continuous. */
export function withStandingModel<T>(highs: Highs, model: LinearModel, work: (of: StandingModel) => T): T {
  const { infinity } = highs;
  const bound = (value: number) => value === Infinity ? infinity : value === -Infinity ? -infinity : value;
  return highs.withModel(sourceOf(highs, model), (solver) => {
    solver.options.set("output_flag", false);
    solver.options.set("random_seed", 0);
    solver.options.set("solver", "simplex");
    solver.options.set("simplex_iteration_limit", MOST_STEPS);
    let known = model.rowLower.length;
    let first = true;
    /** Whether the solver came to an end, with an answer or without. */
    const runs = () => {
      try {
        solver.run();
        return true;
      } catch (error) {
        if (!(error instanceof Error) || !error.message.startsWith(FAILED)) throw error;
        return false;
      }
    };
    return work({
      solve(cost) {
        solver.changeColsCost({ kind: "range", from: 0, to: cost.length - 1 }, Float64Array.from(cost));
        if (!runs()) {
          // The way on from the last point got lost in rounding: once more from nothing.
          solver.clearSolver();
          if (!runs()) return null;
        }
        if (first) solver.options.set("presolve", "off");
        first = false;
        if (solver.getModelStatus() !== highs.constants.modelStatus.optimal) return null;
        const { colValue, rowDual } = solver.getSolution();
        return { values: colValue, duals: rowDual };
      },
      addNewRows() {
        const count = model.rowLower.length - known;
        if (count === 0) return;
        const from = model.start[known] as number;
        solver.addRows({
          lower: Float64Array.from(model.rowLower.slice(known), bound),
          upper: Float64Array.from(model.rowUpper.slice(known), bound),
          matrix: {
            format: "csr",
            numCols: model.cost.length,
            numRows: count,
            starts: Int32Array.from(model.start.slice(known).map((at) => at - from)),
            indices: Int32Array.from(model.index.slice(from)),
            values: Float64Array.from(model.value.slice(from)),
          },
        });
        known = model.rowLower.length;
      },
      setRow(row, lower, upper) {
        model.rowLower[row] = lower;
        model.rowUpper[row] = upper;
        solver.changeRowBounds(row, bound(lower), bound(upper));
      },
      setColumn(column, lower, upper) {
        model.lower[column] = lower;
        model.upper[column] = upper;
        solver.changeColBounds(column, lower, upper);
      },
      ray() {
        return solver.getDualRay()?.values ?? null;
      },
    });
  });
}
