import type { Breach } from "../../core/audit/audit.ts";
import type { PlanProgress } from "../../core/plan/make.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Finding } from "../../core/season/check.ts";
import type { Season } from "../../core/season/season.ts";

/**
 * What to plan, and how hard to search. "plan": anew, with a long search. "replan": after an edit, near the plan in `from`, within a
 * moment; without one it is a plan. A longer look in the background would be a third kind, whose plan is offered and replaces nothing.
 */
export interface Order {
  readonly kind: "plan" | "replan";
  readonly season: Season;
  /** The farm's now, local, as a season has it; what is later is plan. */
  readonly asOf: string;
  readonly revision: number;
  readonly seed: number;
  readonly iterations: number;
  /** An earlier plan of the season to start from as well. */
  readonly from?: Plan;
}

/** One plan to make. `flag` holds one 32-bit integer: anything but 0 asks the planner to stop. */
export interface Job extends Order {
  readonly flag: SharedArrayBuffer;
}

/** How a job ended. Only "planned" carries a plan, and only a plan that the auditor passed. */
export type Ending =
  | { readonly kind: "planned"; readonly plan: Plan }
  | { readonly kind: "breached"; readonly breaches: readonly Breach[] }
  | { readonly kind: "cannot"; readonly findings: readonly Finding[] }
  | { readonly kind: "broken"; readonly message: string };

/** What the worker says: how far it is, with each better plan that the auditor passed, and the ending. */
export type FromWorker =
  | { readonly kind: "progress"; readonly progress: PlanProgress }
  | { readonly kind: "ending"; readonly ending: Ending };
