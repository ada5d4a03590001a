import type { FieldYields } from "../../core/explain/field-crops.ts";
import type { FieldsTold } from "../../core/explain/field-words.ts";
import type { AccountAsk } from "../../core/explain/new-account.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";

/** Which field gets which grain, with yields that somebody expects. */
export interface FieldsAsk {
  readonly yields: FieldYields;
}

/** A question about a plan that takes planning another season to answer. */
export interface AskOrder {
  readonly season: Season;
  readonly plan: Plan;
  readonly ask: AccountAsk | FieldsAsk;
}

/** How a question ended: an answer in words, with a row for each field where it is about fields; or what broke. */
export type Answered = {
  readonly kind: "answer";
  readonly words: string;
  readonly fields?: FieldsTold["rows"];
} | {
  readonly kind: "broke";
  readonly message: string;
};
