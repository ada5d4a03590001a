import type { Plan } from "../plan/plan.ts";
import { moneyGapOf } from "../plan/plan-bound.ts";
import type { Season } from "../season/season.ts";
import { moneyAmount } from "./money-words.ts";

/**
 * The goals of the best plan found so far, for the line beside the bar: "Best so far: 61 of 64 brews, €12,300, within 1.2 % of the
 * least."; the last part once it is proven.
 */
export function bestWords({ currency, contracts }: Season, plan: Plan): string {
  const { goals } = plan;
  const gap = moneyGapOf(plan);
  const sum = (counts: readonly number[]) => counts.reduce((all, one) => all + one, 0);
  const what = contracts.some(({ kind }) => kind === "sell-malt") ? "brews and malt sales" : "brews";
  const parts = [
    `${sum(goals.made)} of ${sum(goals.asked)} ${what}`,
    moneyAmount(goals.moneyCents, currency),
    ...(gap === null ? [] : [`within ${(100 * gap).toFixed(1)} % of the least`]),
  ];
  return `Best so far: ${parts.join(", ")}.`;
}
