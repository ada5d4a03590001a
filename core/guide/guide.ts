import type { Highs } from "highs";
import type { Plan } from "../plan/plan.ts";
import type { Candidate } from "../search/candidate.ts";
import type { Evaluator } from "../search/evaluate.ts";
import { placeRuns } from "./place.ts";
import { weeklyRuns } from "./weekly.ts";

/**
 * Another start for the search: the weekly model's runs, at counts no less than those of the best plan so far (`goals`), in legal slots
 * beside the brew days of its candidate `best`. Null where the season is too large, where the model has no whole point, and
 * where, by the search's own count, brews or sales that the best plan makes would be lost.
 */
export function guidedStart(
  highs: Highs,
  evaluator: Evaluator,
  best: Candidate,
  goals: Plan["goals"],
): Candidate | null {
  const { problem } = evaluator;
  const weeks = weeklyRuns(highs, problem, goals);
  if (!weeks) return null;
  const guided = placeRuns(problem, weeks, best, evaluator.hurry.crowded);
  const made = (candidate: Candidate) => evaluator.evaluate(candidate, 1).score.made;
  const had = made(best);
  return made(guided).every((count, of) => count >= (had[of] as number)) ? guided : null;
}
