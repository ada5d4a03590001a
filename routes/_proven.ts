import type { Plan } from "../core/plan/plan.ts";
import type { Parts } from "./_parts.ts";
import { standingOf } from "./_standing.ts";
import { completePlan, readPlan } from "./_store/plans.ts";

/**
 * Gives the present plan the bound that was proven for `found`, where it has none and counts as much of everything: a plan made near
 * the last one after an edit is not proven at once, and the first look for a better one proves it.
 */
export function carryBound(parts: Omit<Parts, "looker">, seasonId: string, found: Plan): void {
  const { store, bell } = parts;
  const { latest, state } = standingOf(parts, seasonId);
  const present = latest === null ? null : readPlan(latest);
  if (state !== "planned" || latest === null || present === null || present.bound || !found.bound) return;
  const isOfOne = present.seasonHash === found.seasonHash && present.asOf === found.asOf;
  if (!isOfOne || countsOf(present) !== countsOf(found)) return;
  completePlan(store, latest.id, JSON.stringify({ ...present, bound: found.bound }));
  bell.ring(seasonId);
}

function countsOf({ goals }: Plan): string {
  return [...goals.made, goals.promisesHeld, goals.tailMade].join(" ");
}
