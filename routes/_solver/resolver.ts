import highsModule from "highs";
import type { Resolve } from "../../core/explain/resolve.ts";
import { makePlan } from "../../core/plan/make.ts";
import type { Plan } from "../../core/plan/plan.ts";

// The package is CommonJS, so its types make the default import a namespace; at run time it is the loader.
const loadHighs = highsModule as unknown as typeof highsModule.default;

/** Changes tried for each eased season; it starts from the plan that is explained. */
const ITERATIONS = 2000;

/** Plans changed seasons anew, each from the plan that is explained. */
export async function resolverOf(plan: Plan, cancelled: () => boolean): Promise<Resolve> {
  const highs = await loadHighs();
  return async (season) => {
    const options = { seed: plan.seed, iterations: ITERATIONS, asOf: plan.asOf };
    const outcome = await makePlan(season, { ...options, highs, from: plan, cancelled });
    return outcome.kind === "planned" && !outcome.plan.stoppedEarly ? outcome.plan : null;
  };
}
