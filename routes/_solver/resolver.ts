import type { Highs } from "highs";
import highsModule from "highs";
import type { Resolve } from "../../core/explain/resolve.ts";
import { DEFAULT_ITERATIONS, makePlan } from "../../core/plan/make.ts";
import type { Plan } from "../../core/plan/plan.ts";

// The package is CommonJS, so its types make the default import a namespace; at run time it is the loader.
const loadHighs = highsModule as unknown as typeof highsModule.default;

/** Changes tried for each eased season, and for those that are planned in full, with a seed of their own: a second opinion. */
const ITERATIONS = { short: 2000, full: DEFAULT_ITERATIONS } as const;

/** Plans changed seasons anew, each from a plan near it or else from the plan that is explained; with a solver loaded for it, unless another or none is given. */
export async function resolverOf(
  plan: Plan,
  cancelled: () => boolean,
  given?: Highs | null,
): Promise<Resolve> {
  const highs = given === undefined ? await loadHighs() : given;
  return async (season, near = plan, effort = "short") => {
    const seed = effort === "full" ? plan.seed + 1 : plan.seed;
    const options = { seed, iterations: ITERATIONS[effort], asOf: plan.asOf };
    const outcome = await makePlan(season, { ...options, highs, from: near, cancelled });
    return outcome.kind === "planned" && !outcome.plan.stoppedEarly ? outcome.plan : null;
  };
}
