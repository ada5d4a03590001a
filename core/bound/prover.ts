import type { Highs } from "highs";
import type { Plan } from "../plan/plan.ts";
import type { StoredBound } from "../plan/plan-bound.ts";
import type { Problem } from "../search/problem.ts";
import { boundOfProblem, type PlanBound } from "./bound.ts";
import { boundFaults, isBoundFor, storedBound } from "./stored.ts";

/** Proves bounds for plans of one problem, anew only when their counts change: money may change below the same counts. */
export class Prover {
  private proven: { of: PlanBound; stored: StoredBound } | null = null;

  constructor(
    private readonly highs: Highs,
    private readonly problem: Problem,
    private readonly cancelled: () => boolean = () => false,
  ) {}

  /** Proves what it can for plans that count as these goals do. Cancelled, or where the proof does not hold when recomputed, nothing is proven. */
  prove(goals: Plan["goals"]): void {
    if (this.proven && isBoundFor(this.proven.of, goals)) return;
    const of = boundOfProblem(this.highs, this.problem, goals, { cancelled: this.cancelled });
    if (of === null) return;
    const stored = storedBound(of);
    if (boundFaults(this.problem, { goals, bound: stored }).length === 0) this.proven = { of, stored };
  }

  /** The plan with what is proven of plans that count as it does. */
  carried(plan: Plan): Plan {
    return this.proven && isBoundFor(this.proven.of, plan.goals)
      ? { ...plan, bound: this.proven.stored }
      : plan;
  }
}
