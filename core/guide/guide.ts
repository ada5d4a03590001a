import type { Highs } from "highs";
import type { Candidate } from "../search/candidate.ts";
import type { Evaluator } from "../search/evaluate.ts";
import { placeRuns } from "./place.ts";
import { type Aim, weeklyRuns } from "./weekly.ts";

/**
 * Another start for the search: the weekly model's runs, at counts no less than its aim, in legal slots beside the brew days of
 * `best`; another start for every `variant`. Where full loads of them do not crowd the malt store, the evaluator is told so. Null where the season is too large, where the model has no such point and where it was cancelled.
 */
export function guidedStart(
  highs: Highs,
  evaluator: Evaluator,
  best: Candidate,
  aim: Aim,
  variant: number,
  cancelled: () => boolean = () => false,
): Candidate | null {
  const { problem } = evaluator;
  const weeks = weeklyRuns(highs, problem, aim, variant, cancelled);
  if (!weeks) return null;
  const { hurry } = evaluator;
  const crowded = hurry.crowded;
  hurry.crowded = false;
  const full = placeRuns(problem, weeks, best, false);
  hurry.crowded = crowded && evaluator.evaluate(full, 1).score.broken > 0;
  return hurry.crowded ? placeRuns(problem, weeks, best, true) : full;
}
