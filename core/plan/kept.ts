import type { Breach } from "../audit/audit.ts";
import type { Candidate } from "../search/candidate.ts";
import { compareGoals } from "./compare.ts";
import type { Plan } from "./plan.ts";

/** Share of the money below which a gain is not worth while. */
const WORTH_WHILE = 0.001;

/** A candidate with its audited plan. */
export interface Kept {
  plan: Plan;
  breaches: Breach[];
  candidate: Candidate;
}

/** Whether a plan makes or keeps more of something than the one before it. */
export function isMore({ plan: { goals } }: Kept, { plan: { goals: was } }: Kept): boolean {
  return goals.promisesHeld > was.promisesHeld ||
    goals.made.some((count, of) => count > (was.made[of] as number));
}

/** Whether a plan makes or keeps more than the one before it, or costs clearly less. */
export function isWorthWhile(kept: Kept, before: Kept): boolean {
  const cents = kept.plan.goals.moneyCents, was = before.plan.goals.moneyCents;
  return isMore(kept, before) || cents < was - WORTH_WHILE * Math.abs(was);
}

/** Fewer breaches first, then the goals in order. */
export function better(a: Kept, b: Kept): boolean {
  if (a.breaches.length !== b.breaches.length) return a.breaches.length < b.breaches.length;
  return compareGoals(a.plan.goals, b.plan.goals) < 0;
}
