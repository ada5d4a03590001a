import type { AccountAsk } from "../../core/explain/new-account.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";

/** A question about a plan that takes planning another season to answer. */
export interface AskOrder {
  readonly season: Season;
  readonly plan: Plan;
  readonly ask: AccountAsk;
}

/** How a question ended: an answer in words, or what broke. */
export type Answered = { readonly kind: "answer"; readonly words: string } | {
  readonly kind: "broke";
  readonly message: string;
};
