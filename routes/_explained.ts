import type { Explanation } from "../core/explain/explanation.ts";
import type { Parts } from "./_parts.ts";
import type { Standing, Year } from "./_standing.ts";
import { readExplanation } from "./_store/explanations.ts";
import { latestSolved } from "./_store/plans.ts";

/** What is known of why the stored plan of a season is as it is; null while its plan is in the making or is another's. */
export interface Explained {
  readonly explanation: Explanation | null;
  readonly isBusy: boolean;
  /** Why it broke off, or null. */
  readonly failure: string | null;
}

/**
 * Reads what is known, and begins to work out what is asked and not known yet: slack needs no other season planned, the whole takes
 * minutes. Only a plan of the season as it is, is explained.
 */
export function explained(
  parts: Parts,
  standing: Standing,
  year: () => Year,
  depth: "slack" | "whole",
): Explained {
  const { store, explainer } = parts;
  const none: Explained = { explanation: null, isBusy: false, failure: null };
  if (standing.state !== "planned" || standing.latest === null) return none;
  const planId = standing.latest.id;
  const explanation = readExplanation(store, planId);
  const failure = explainer.failure(planId);
  const missing = explanation === null || (depth === "whole" && explanation.limit === "");
  const isStuck = depth === "whole" && explanation !== null && explanation.doing !== "" &&
    !explainer.isBusy(planId);
  if ((missing || isStuck) && failure === null && standing.row.shelf === "open") {
    const { stored, plan } = year();
    const solved = latestSolved(store, standing.row.id);
    if (plan !== null && solved?.id === planId && plan.runs.length > 0) {
      explainer.explain({ planId, season: { ...stored, asOf: plan.asOf }, plan, depth });
    }
  }
  return { explanation, isBusy: explainer.isBusy(planId), failure };
}
