import { makeSeason } from "../../core/generate/make-season.ts";
import { makePlan } from "../../core/plan/make.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";

/** A season with two plans that the auditor passes, the second of them worth being offered in place of the first. */
export interface TwoPlans {
  readonly season: Season;
  readonly present: Plan;
  readonly better: Plan;
}

/** Makes one: a made season that stands still in time, its plan without a search, and one after a little search. */
export async function twoPlans(size: "micro" | "small" = "micro"): Promise<TwoPlans> {
  const made = makeSeason(size, size === "micro" ? 2 : 3);
  const season = { ...made, fixedAsOf: made.asOf };
  const present = await planned(season, 0);
  return { season, present, better: await planned(season, 400, present) };
}

async function planned(season: Season, iterations: number, from?: Plan): Promise<Plan> {
  const outcome = await makePlan(season, { seed: 1, iterations, highs: null, ...(from ? { from } : {}) });
  if (outcome.kind !== "planned") throw new Error(`no plan: ${outcome.kind}`);
  return outcome.plan;
}
