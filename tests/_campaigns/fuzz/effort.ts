import type { Highs } from "highs";
import { makePlan } from "../../../core/plan/make.ts";
import type { PlanOutcome } from "../../../core/plan/options.ts";
import type { Season } from "../../../core/season/season.ts";

/** Changes tried in a search that only has to give some plan. */
const FEW = 40;
/** Times the planner may ask whether it should stop before it is told to: exact weighings of a small season come to hundreds. */
const PATIENCE = 80;

/**
 * Plans a small season with as little effort as gives a plan that the auditor passes. The quick search looks at neither bag places nor
 * origins, so what it gives may break a rule; only what the whole planner gives in the end counts.
 */
export async function planQuickly(season: Season, highs: Highs): Promise<PlanOutcome> {
  const quick = await makePlan(season, { seed: 1, iterations: FEW, highs: null });
  if (quick.kind !== "breached") return quick;
  const weighed = await makePlan(season, { seed: 1, iterations: 0, highs });
  if (weighed.kind !== "breached") return weighed;
  let asked = 0;
  return makePlan(season, { seed: 1, iterations: FEW, highs, cancelled: () => ++asked > PATIENCE });
}

/** The careful person's plan of a large season, which nobody has searched for a better one; it may break a rule. */
export function planRoughly(season: Season): Promise<PlanOutcome> {
  return makePlan(season, { seed: 1, iterations: 0, highs: null });
}
