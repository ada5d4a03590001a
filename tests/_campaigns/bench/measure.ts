import type { Highs } from "highs";
import { boundOfProblem, type PlanBound } from "../../../core/bound/bound.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { SeasonSize } from "../../../core/generate/sizes.ts";
import { DEFAULT_ITERATIONS, makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { problemOf } from "../../../core/search/problem.ts";
import type { LinearModel } from "../../../core/solve/linear.ts";
import { mpsOf } from "../../../core/solve/mps.ts";
import { type Instance, instanceOf } from "./instance.ts";
import { solveFile, type SolverResult } from "./solvers.ts";

/** A general solver's answer as money above the fixed part, cents. */
export interface Rival {
  readonly solver: string;
  readonly cents: number | null;
  readonly boundCents: number | null;
  readonly seconds: number;
}

/** One made season: our plan, what is proven of it, and what general solvers made of the easier model. */
export interface Measured {
  readonly size: SeasonSize;
  readonly seed: number;
  readonly planSeconds: number;
  readonly boundSeconds: number;
  readonly goals: Plan["goals"];
  readonly bound: PlanBound;
  /** Gap of money beside plans that count no fewer of anything: the same where all counts are closed. */
  readonly heldGap: number;
  readonly columns: number;
  readonly rows: number;
  readonly rivals: readonly Rival[];
}

/** How long, and by whom. `solvers` are general solvers on the machine; "HiGHS" is the one in the package. */
export interface BenchOptions {
  readonly solvers: readonly string[];
  readonly seconds: number;
}

/** Iterations for sizes whose default would take minutes. */
const ITERATIONS: Partial<Record<SeasonSize, number>> = { micro: 2000, coop: 0 };

/** Plans and bounds one season, then lets each solver work on it. Null when it cannot be planned. */
export async function measure(
  highs: Highs,
  size: SeasonSize,
  seed: number,
  { solvers, seconds }: BenchOptions,
): Promise<Measured | null> {
  const season = makeSeason(size, seed);
  const asOf = season.fixedAsOf ?? season.asOf;
  const began = performance.now();
  const outcome = await makePlan(season, {
    seed: 1,
    iterations: ITERATIONS[size] ?? DEFAULT_ITERATIONS,
    highs,
  });
  const planned = performance.now();
  if (outcome.kind !== "planned") return null;
  const problem = problemOf(season, asOf);
  const bound = boundOfProblem(highs, problem, outcome.plan.goals);
  const bounded = performance.now();
  if (bound === null) return null;
  const held = bound.money ?? boundOfProblem(highs, problem, outcome.plan.goals, { held: true })?.money;
  const instance = instanceOf(problem, outcome.plan, bound);
  const rivals = bound.money === null ? [] : await rivalsOf(highs, instance, solvers, seconds);
  return {
    size,
    seed,
    planSeconds: (planned - began) / 1000,
    boundSeconds: (bounded - planned) / 1000,
    goals: outcome.plan.goals,
    bound,
    heldGap: held?.gap ?? NaN,
    columns: instance.model.cost.length,
    rows: instance.model.rowLower.length,
    rivals,
  };
}

async function rivalsOf(
  highs: Highs,
  { model, centsOf }: Instance,
  solvers: readonly string[],
  seconds: number,
): Promise<Rival[]> {
  const file = await Deno.makeTempFile({ prefix: "rickyard-bench-", suffix: ".mps" });
  await Deno.writeTextFile(file, mpsOf(model, "season"));
  const rivals: Rival[] = [];
  for (const solver of solvers) {
    const found = solver === "HiGHS" ? alone(highs, model, seconds) : await solveFile(solver, file, seconds);
    rivals.push({
      solver,
      cents: found.objective === null ? null : centsOf(found.objective),
      boundCents: found.bound === null ? null : centsOf(found.bound),
      seconds: found.seconds,
    });
  }
  await Deno.remove(file);
  return rivals;
}

/** HiGHS as it comes, with the same text as the others. */
function alone(highs: Highs, model: LinearModel, seconds: number): SolverResult {
  const began = performance.now();
  return highs.withModel({ format: "mps", data: mpsOf(model, "season") }, (solver) => {
    solver.options.set("output_flag", false);
    solver.options.set("time_limit", seconds);
    solver.run();
    const has = solver.info.get("primal_solution_status") === 2;
    const bound = Number(solver.info.get("mip_dual_bound"));
    return {
      solver: "HiGHS",
      objective: has ? solver.getObjectiveValue() : null,
      bound: Number.isFinite(bound) ? bound : null,
      seconds: (performance.now() - began) / 1000,
    };
  });
}
