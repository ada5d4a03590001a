import type { Explanation } from "../../core/explain/explanation.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";

/** A plan to explain. `depth` "slack" ends with what is known without planning other seasons; "whole" goes on to causes and remedies. */
export interface ExplainOrder {
  readonly season: Season;
  readonly plan: Plan;
  readonly depth: "slack" | "whole";
}

/** One order for the worker. `flag` holds one 32-bit integer: anything but 0 asks it to stop. */
export interface ExplainJob extends ExplainOrder {
  readonly flag: SharedArrayBuffer;
}

/** What the worker says: the explanation each time it has grown, and the end; `message` says what broke, if anything did. */
export type FromExplainer =
  | { readonly kind: "grown"; readonly explanation: Explanation }
  | { readonly kind: "ended"; readonly message: string | null };
