import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { moneyAmount } from "./money-words.ts";

/** The goals of the best plan found so far, for the line beside the bar: "Best so far, below: 61 of 64 brews, €12,300." */
export function bestWords({ currency, contracts }: Season, { goals }: Plan): string {
  const sum = (counts: readonly number[]) => counts.reduce((all, one) => all + one, 0);
  const what = contracts.some(({ kind }) => kind === "sell-malt") ? "brews and malt sales" : "brews";
  const parts = [
    `${sum(goals.made)} of ${sum(goals.asked)} ${what}`,
    moneyAmount(goals.moneyCents, currency),
    // The proven gap to the bound belongs here, as the last part, once a plan carries one.
  ];
  return `Best so far, below: ${parts.join(", ")}.`;
}
