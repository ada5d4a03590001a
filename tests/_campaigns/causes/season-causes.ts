import type { Highs } from "highs";
import { type Causes, findCauses } from "../../../core/explain/causes.ts";
import type { Resolve } from "../../../core/explain/resolve.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { drawParts, partsOf } from "../../../core/year/draw.ts";
import { shortfallsIn } from "../../../core/year/shortfalls.ts";

/** How hard the first plan is searched for, beside the plans of eased seasons, which start from it. */
const FIRST = 3;

/** Plans an eased season from a plan of the season as it is. */
export function resolver(plan: Plan, iterations: number, highs: Highs | null): Resolve {
  return async (season) => {
    const outcome = await makePlan(season, { seed: 1, iterations, highs, from: plan });
    return outcome.kind === "planned" ? outcome.plan : null;
  };
}

/** Plans a season and finds its causes; null when it cannot be planned. */
export async function seasonCauses(
  season: Season,
  iterations: number,
  highs: Highs | null = null,
): Promise<{ plan: Plan; causes: Causes } | null> {
  const outcome = await makePlan(season, { seed: 1, iterations: FIRST * iterations, highs });
  if (outcome.kind !== "planned") return null;
  const { plan } = outcome;
  const parts = partsOf(season, plan);
  const shortfalls = shortfallsIn(parts, drawParts(parts));
  return { plan, causes: await findCauses(season, plan, shortfalls, resolver(plan, iterations, highs)) };
}
