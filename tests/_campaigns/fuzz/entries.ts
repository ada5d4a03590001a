import type { Highs } from "highs";
import { auditPlan } from "../../../core/audit/audit.ts";
import { chance } from "../../../core/generate/chance.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { makePlan } from "../../../core/plan/make.ts";
import { checkSeason } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { enter, letThrough, stage } from "./failed-lots.ts";

/** Kinds of micro season in which the first lot lies in its bin, awake. */
const THEMES = ["plain", "bed", "bins"] as const;

/** A season after some days of entries: results, moves, mixes, splits, runs and bookings; and what was entered. */
export function enteredSeason(seed: number): { file: Season; entries: string[] } {
  const luck = chance(seed);
  const file = stage(microSeason(luck.int(1, 500), luck.pick(THEMES)));
  return { file, entries: enter(luck, file, luck.int(2, 8)) };
}

/**
 * Acceptance case 5: whatever was entered, no lot that has failed reaches a brew in a plan that the auditor passes. What other rules
 * a plan breaks is not asked here.
 */
export async function judgeEntries(seed: number, highs: Highs | null) {
  const { file, entries } = enteredSeason(seed);
  const about = entries.join("; ");
  const { season } = checkSeason(file);
  if (season === null) return { word: "lots: errors", fault: null, about };
  const outcome = await makePlan(season, { seed: 1, iterations: highs === null ? 40 : 0, highs });
  if (outcome.kind === "cannot") return { word: "lots: errors", fault: "refused by the planner", about };
  const [through] = letThrough(season, outcome.plan);
  if (through !== undefined && auditPlan(season, outcome.plan).length === 0) {
    return { word: "lots: let through", fault: `a failed lot, ${through}`, about };
  }
  return {
    word: through === undefined ? "lots: kept out" : "lots: stopped by the auditor",
    fault: null,
    about,
  };
}
