import type { Highs } from "highs";
import { type Causes, findCauses } from "../../../core/explain/causes.ts";
import { DEFAULT_ITERATIONS, makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { drawParts, partsOf } from "../../../core/year/draw.ts";
import { type Shortfall, shortfallsIn } from "../../../core/year/shortfalls.ts";
import type { Resolve } from "../../../core/explain/resolve.ts";
import { resolverOf } from "../../../routes/_solver/resolver.ts";

/** A season planned and explained as the server does it. */
export interface Explained {
  readonly plan: Plan;
  readonly shortfalls: readonly Shortfall[];
  readonly causes: Causes;
  readonly resolve: Resolve;
}

/** Plans a season as a page does, or with fewer changes tried, and finds its causes; null when it cannot be planned. */
export async function seasonCauses(
  highs: Highs | null,
  season: Season,
  iterations = DEFAULT_ITERATIONS,
): Promise<Explained | null> {
  const outcome = await makePlan(season, { seed: 1, iterations, highs });
  if (outcome.kind !== "planned") return null;
  const { plan } = outcome;
  const parts = partsOf(season, plan);
  const shortfalls = shortfallsIn(parts, drawParts(parts));
  const resolve = await resolverOf(plan, () => false, highs);
  return { plan, shortfalls, causes: await findCauses(season, plan, shortfalls, resolve), resolve };
}
