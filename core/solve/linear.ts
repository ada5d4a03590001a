import type { Highs } from "highs";

/**
 * A linear (or mixed-integer) model grown column by column and row by row, minimised. Columns have finite bounds: the
 * solver's presolve was seen to loop without end on columns unbounded above, and no limit stopped it. Rows may be open to
 * either side. Scaling to tonnes and to whole currency units is the caller's business.
 */
export class LinearModel {
  readonly cost: number[] = [];
  readonly lower: number[] = [];
  readonly upper: number[] = [];
  readonly integer: number[] = [];
  readonly rowLower: number[] = [];
  readonly rowUpper: number[] = [];
  readonly start: number[] = [0];
  readonly index: number[] = [];
  readonly value: number[] = [];
  /** By column: what the entries of the row being added come to, while it is; and the columns among them. */
  private readonly sums: (number | undefined)[] = [];
  private readonly touched: number[] = [];

  /** A new column; returns its index. Throws a RangeError for a bound that is not a finite number. */
  column(cost: number, lower: number, upper: number, integer = false): number {
    if (!Number.isFinite(lower) || !Number.isFinite(upper)) {
      throw new RangeError(`a column needs finite bounds, not ${lower} to ${upper}`);
    }
    this.cost.push(cost);
    this.lower.push(lower);
    this.upper.push(upper);
    this.integer.push(integer ? 1 : 0);
    this.sums.push(undefined);
    return this.cost.length - 1;
  }

  /** A new row `lower <= sum(entries) <= upper`; entries of one column are added up. */
  row(
    lower: number,
    upper: number,
    entries: readonly (readonly [column: number, coefficient: number])[],
  ): number {
    const { sums, touched } = this;
    touched.length = 0;
    for (let i = 0; i < entries.length; i++) {
      const [column, coefficient] = entries[i] as readonly [number, number];
      const sum = sums[column];
      if (sum === undefined) touched.push(column);
      sums[column] = (sum ?? 0) + coefficient;
    }
    for (let i = 0; i < touched.length; i++) {
      const column = touched[i] as number;
      const coefficient = sums[column] as number;
      sums[column] = undefined;
      if (coefficient === 0) continue;
      this.index.push(column);
      this.value.push(coefficient);
    }
    this.start.push(this.index.length);
    this.rowLower.push(lower);
    this.rowUpper.push(upper);
    return this.rowLower.length - 1;
  }
}

/** The answer of one solve; `values` is null when there is no feasible point to read. */
export interface LinearAnswer {
  optimal: boolean;
  objective: number;
  values: Float64Array | null;
}

/** Limits that keep a solve the same on every machine: nodes and gap, never seconds (a time limit stands behind them only as a stop). */
export interface SolveLimits {
  nodes?: number;
  relativeGap?: number;
  absoluteGap?: number;
  seconds?: number;
  /** For a model without whole numbers that is solved in a few hundredths of a second: no presolve, and a cheaper choice of pivots. */
  brisk?: boolean;
}

/** `Devex` among the solver's dual edge weight strategies. */
const DEVEX = 1;

/** The model as HiGHS takes it, whole columns as continuous ones. */
export function sourceOf({ infinity }: Highs, model: LinearModel) {
  const bound = (value: number) => value === Infinity ? infinity : value === -Infinity ? -infinity : value;
  return {
    numCols: model.cost.length,
    numRows: model.rowLower.length,
    colCost: model.cost,
    colLower: model.lower,
    colUpper: model.upper,
    rowLower: model.rowLower.map(bound),
    rowUpper: model.rowUpper.map(bound),
    matrix: {
      format: "csr" as const,
      numCols: model.cost.length,
      numRows: model.rowLower.length,
      starts: Int32Array.from(model.start),
      indices: Int32Array.from(model.index),
      values: Float64Array.from(model.value),
    },
  };
}

/** Solves `model` with a HiGHS instance that the caller loaded. Never reads a value of an unsolved model. */
export function solveLinear(highs: Highs, model: LinearModel, limits: SolveLimits = {}): LinearAnswer {
  const { constants } = highs;
  return highs.withModel(
    { ...sourceOf(highs, model), integrality: Int32Array.from(model.integer) },
    (solver) => {
      solver.options.set("output_flag", false);
      solver.options.set("random_seed", 0);
      solver.options.set("mip_feasibility_tolerance", 1e-7);
      solver.options.set("mip_rel_gap", limits.relativeGap ?? 0);
      solver.options.set("mip_abs_gap", limits.absoluteGap ?? 1e-6);
      // Cuts that do not bind go soon: with many of them each step of a small season's model was seen to take three times as long.
      solver.options.set("mip_lp_age_limit", 3);
      solver.options.set("time_limit", limits.seconds ?? 20);
      if (limits.brisk) {
        solver.options.set("presolve", "off");
        solver.options.set("simplex_dual_edge_weight_strategy", DEVEX);
      }
      if (limits.nodes !== undefined) solver.options.set("mip_max_nodes", limits.nodes);
      solver.run();
      const status = solver.getModelStatus();
      // 2 = a feasible point exists; without it getSolution() returns zeros that mean nothing.
      const feasible = solver.info.get("primal_solution_status") === 2;
      if (!feasible) return { optimal: false, objective: Infinity, values: null };
      return {
        optimal: status === constants.modelStatus.optimal,
        objective: solver.getObjectiveValue(),
        values: Float64Array.from(solver.getSolution().colValue),
      };
    },
  );
}
