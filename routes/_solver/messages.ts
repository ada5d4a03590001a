import type { Breach } from "../../core/audit/audit.ts";
import type { PlanProgress } from "../../core/plan/options.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Finding } from "../../core/season/check.ts";
import type { Season } from "../../core/season/season.ts";

/**
 * What to plan, and how hard to search. "plan": anew, with a long search. "replan": after an edit, near the plan in `from`, within a
 * moment; without one it is a plan. "look": for a better plan while nothing else is wanted; nobody follows how far it is.
 */
export interface Order {
  readonly kind: "plan" | "replan" | "look";
  readonly season: Season;
  /** The farm's now, local, as a season has it; what is later is plan. */
  readonly asOf: string;
  readonly revision: number;
  readonly seed: number;
  readonly iterations: number;
  /** An earlier plan of the season to start from as well. */
  readonly from?: Plan;
}

/** Asks the planner to stop and to hand over the best that it has, weighed. */
export const HAND_OVER = 1;
/** Asks the planner to leave off on the spot: nothing more is wanted. */
export const LEAVE_OFF = 2;

/** One plan to make. `flag` holds one 32-bit integer: 0, HAND_OVER or LEAVE_OFF. */
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
