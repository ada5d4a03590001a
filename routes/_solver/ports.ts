import { auditPlan, type Breach } from "../../core/audit/audit.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import type { Store } from "../_store/open.ts";
import { inWords, storeTrouble } from "../_store/trouble.ts";
import { endPlan, failPlan, latestSolved, latestSolvedId, readPlan, startPlan } from "../_store/plans.ts";
import type { Bell } from "./bell.ts";
import type { Ending } from "./messages.ts";
import type { Cut, Ports, Request } from "./solver.ts";

/** Ties the solver to the store and to those who follow a season. */
export function ports(store: Store, bell: Bell, now: () => Date): Ports {
  const at = () => now().toISOString();
  /** Edits in bursts start one plan after the other, each from the same last one. */
  let lastRead: { readonly id: number; readonly plan: Plan | null } | null = null;
  return {
    last(seasonId) {
      const id = latestSolvedId(store, seasonId);
      if (id === null || id === lastRead?.id) return id === null ? null : lastRead!.plan;
      const row = latestSolved(store, seasonId);
      lastRead = { id, plan: row === null ? null : readPlan(row) };
      return lastRead.plan;
    },
    begin: ({ season, revision, hash }) => startPlan(store, { id: season.id, revision, hash }, at()),
    changed: (seasonId) => bell.ring(seasonId),
    failed({ season }, error) {
      const found = storeTrouble(error, `the plan of ${season.id}`);
      console.error(found === null ? error : inWords(found.trouble));
      if (found === null) return BROKEN + (error instanceof Error ? error.message : error);
      return `The plan was not stored. ${found.trouble.what} ${found.trouble.whatToDo} Then plan again.`;
    },
    end(row, request, ending, cut) {
      const failure = whyFailed(request, ending, cut);
      if (failure !== null) failPlan(store, row, failure, at());
      else if (ending.kind === "planned") endPlan(store, row, JSON.stringify(ending.plan), remark(cut), at());
    },
  };
}

function remark(cut: Cut): string {
  if (cut === "stopped") return "Stopped early: this is the best plan found until then.";
  return cut === "out of time" ? "The time was up: this is the best plan found until then." : "";
}

/**
 * Why there is no plan to store, in words for the page, or null when there is one. The audit is repeated here, at
 * the door of the store, so that no fault between the planner and the store can let an unaudited plan in.
 */
function whyFailed(request: Request, ending: Ending, cut: Cut): string | null {
  if (cut === "overtaken") return "The season was changed while this plan was being made.";
  if (ending.kind === "cannot") {
    return `The season cannot be planned as it is. ${
      ending.findings.map(({ message }) => message).join(" ")
    }`;
  }
  if (ending.kind === "broken") {
    if (cut === "stopped") return "Stopped before a plan was found.";
    return cut === "out of time" ? "The time was up before a plan was found." : BROKEN + ending.message;
  }
  if (ending.kind === "planned") return refusedAtDoor(request.season, ending.plan);
  return refusal(ending.breaches);
}

/** Why the auditor refuses a plan at the door of the store, in words for the page, or null when it passes. */
export function refusedAtDoor(season: Season, plan: Plan): string | null {
  const breaches = auditPlan(season, plan);
  return breaches.length === 0 ? null : refusal(breaches);
}

function refusal(breaches: readonly Breach[]): string {
  return `The planner's own check refused the plan: ${breaches[0]?.message}`;
}

const BROKEN = "The planner broke off. Plan again; if it happens again, report this: ";
