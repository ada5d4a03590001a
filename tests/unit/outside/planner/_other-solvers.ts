import type { GLPK } from "glpk.js/node";
import { solve } from "yalps";
import type { LinearModel } from "../../../../core/solve/linear.ts";

/** Entries of each row. */
function rowsOf(
  model: LinearModel,
): { lower: number; upper: number; entries: [column: number, value: number][] }[] {
  return model.rowLower.map((lower, row) => ({
    lower,
    upper: model.rowUpper[row]!,
    entries: model.index.slice(model.start[row], model.start[row + 1])
      .map((column, at): [number, number] => [column, model.value[model.start[row]! + at]!]),
  }));
}

/** The least objective by GLPK; null when it is not proved optimal. */
export function solveByGlpk(glpk: GLPK, model: LinearModel): number | null {
  const bounds = (lower: number, upper: number) => {
    const type = lower === upper
      ? glpk.GLP_FX
      : Number.isFinite(lower)
      ? Number.isFinite(upper) ? glpk.GLP_DB : glpk.GLP_LO
      : Number.isFinite(upper)
      ? glpk.GLP_UP
      : glpk.GLP_FR;
    return { type, lb: Number.isFinite(lower) ? lower : 0, ub: Number.isFinite(upper) ? upper : 0 };
  };
  const { result } = glpk.solve({
    name: "allocation",
    objective: {
      direction: glpk.GLP_MIN,
      name: "cost",
      vars: model.cost.map((coef, column) => ({ name: `c${column}`, coef })),
    },
    subjectTo: rowsOf(model).filter((row) => row.entries.length > 0).map((row, i) => ({
      name: `r${i}`,
      vars: row.entries.map(([column, coef]) => ({ name: `c${column}`, coef })),
      bnds: bounds(row.lower, row.upper),
    })),
    bounds: model.lower.map((lower, column) => ({
      name: `c${column}`,
      ...bounds(lower, model.upper[column]!),
    })),
  }, { msglev: glpk.GLP_MSG_OFF, tmlim: 60 });
  return result.status === glpk.GLP_OPT ? result.z : null;
}

/** The least objective by yalps; null when it is not proved optimal. Its columns are never negative, so each stands for what is above its lower bound. */
export function solveByYalps(model: LinearModel): number | null {
  const columns: Map<string, number>[] = model.cost.map((cost) => new Map([["cost", cost]]));
  const constraints = new Map<string, { min?: number; max?: number; equal?: number }>();
  const between = (name: string, lower: number, upper: number) =>
    constraints.set(
      name,
      lower === upper ? { equal: lower } : {
        ...(Number.isFinite(lower) ? { min: lower } : {}),
        ...(Number.isFinite(upper) ? { max: upper } : {}),
      },
    );
  rowsOf(model).forEach(({ lower, upper, entries }, i) => {
    const atLower = entries.reduce((sum, [column, value]) => sum + value * model.lower[column]!, 0);
    between(`r${i}`, lower - atLower, upper - atLower);
    for (const [column, value] of entries) columns[column]!.set(`r${i}`, value);
  });
  model.upper.forEach((upper, column) => {
    between(`u${column}`, -Infinity, upper - model.lower[column]!);
    columns[column]!.set(`u${column}`, 1);
  });
  const { status, result } = solve({
    direction: "minimize",
    objective: "cost",
    constraints,
    variables: columns.map((column, i): [string, Map<string, number>] => [`c${i}`, column]),
  }, { maxPivots: 200_000, precision: 1e-10 });
  const fixed = model.cost.reduce((sum, cost, column) => sum + cost * model.lower[column]!, 0);
  return status === "optimal" ? result + fixed : null;
}
