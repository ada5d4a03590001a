import type { Highs } from "highs";
import type { Breach } from "../audit/audit.ts";
import type { Finding } from "../season/check.ts";
import type { Plan } from "./plan.ts";

/** Where a search stands; `best` is the best audited plan so far, when it is new. */
export interface PlanProgress {
  stage: "reading" | "naive" | "searching" | "weighing" | "proving";
  done: number;
  of: number;
  best?: Plan;
}

export interface PlanOptions {
  seed: number;
  /**
   * Changes tried over the first four starts; an eighth of them again from each of the weekly model's starts, a quarter from what exact weights
   * chose, where there is a solver for it.
   */
  iterations: number;
  /** A HiGHS instance the caller loaded; without one weights follow the search's own count. */
  highs: Highs | null;
  /** Now, for a live farm; a file's `fixedAsOf`, else its `asOf`, when left out. */
  asOf?: string;
  revision?: number;
  /** An earlier plan of this season, or of it before an edit: the search also starts from what of it still holds. */
  from?: Plan;
  /** Also proves how much better any plan could be; needs `highs`. */
  prove?: boolean;
  onProgress?: (progress: PlanProgress) => void;
  cancelled?: () => boolean;
}

/** `setAside` names what the search's own plan broke, when only what is under way or booked could be kept in its stead. */
export type PlanOutcome =
  | { kind: "planned"; plan: Plan; breaches: []; setAside: readonly Breach[] }
  | { kind: "breached"; breaches: Breach[]; plan: Plan }
  | { kind: "cannot"; findings: readonly Finding[] };
