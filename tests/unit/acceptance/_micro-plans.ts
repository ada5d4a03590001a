import type { Highs } from "highs";
import { microSeason } from "../../../core/generate/micro.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";

/** Enough for a micro season: the exact weighings that follow the search do not depend on it. */
const ITERATIONS = 300;
/** Whole grams and rounded cents may set two equally good plans so far apart. */
const LEAST_CENTS = 50;
const SHARE_OF_MONEY = 0.0005;

/** Seeds that are soon planned: one or two runs, with and without orders, grain still to come in 59. */
export const QUICK_SEEDS = [8, 50, 59, 65];

/** The same season gives the same plan, so tests of one process share the plans of the quick seeds. */
const made = new Map<number, Plan>();

/** The plans of the quick seeds. */
export async function quickPlans(highs: Highs): Promise<ReadonlyMap<number, Plan>> {
  for (const seed of QUICK_SEEDS) {
    if (!made.has(seed)) made.set(seed, await planOf(highs, microSeason(seed)));
  }
  return structuredClone(made);
}

/** The planner's plan of a season that can be planned. */
export async function planOf(highs: Highs, season: Season): Promise<Plan> {
  const outcome = await makePlan(season, { seed: 1, iterations: ITERATIONS, highs });
  if (outcome.kind !== "planned") throw new Error(JSON.stringify(outcome).slice(0, 2000));
  return outcome.plan;
}

/** What makes the first plan worse than the second, goal by goal; empty when it is not, or by less than rounding. */
export function worse({ goals: a }: Plan, { goals: b }: Plan): string {
  const counts = (goals: Plan["goals"]) => [...goals.made, goals.promisesHeld, goals.tailMade];
  const names = ["brews of class 1", "brews of class 2", "brews of class 3", "promises", "tail brews"];
  for (const [i, name] of names.entries()) {
    const less = counts(b)[i]! - counts(a)[i]!;
    if (less !== 0) return less > 0 ? `${less} less ${name}` : "";
  }
  const more = a.moneyCents - b.moneyCents;
  return more > Math.max(LEAST_CENTS, SHARE_OF_MONEY * Math.abs(b.moneyCents)) ? `${more} cents more` : "";
}
