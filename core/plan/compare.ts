import type { Plan } from "./plan.ts";

/** Less than 0 when `a` is better by the goals in order. */
export function compareGoals(a: Plan["goals"], b: Plan["goals"]): number {
  for (let i = 0; i < 3; i++) {
    const difference = (b.made[i] as number) - (a.made[i] as number);
    if (difference !== 0) return difference;
  }
  return b.promisesHeld - a.promisesHeld || b.tailMade - a.tailMade || a.moneyCents - b.moneyCents;
}
