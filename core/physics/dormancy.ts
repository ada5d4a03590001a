/** When a lot wakes: the first day its grain may be steeped. A germination test overrides the book's rest. */

/** One germination test of a lot: the day it was read and the germinative energy as a fraction 0..1. */
export interface GerminationResult {
  readonly day: number;
  readonly germinativeEnergy: number;
}

/**
 * Days of rest from harvest to waking. Planning range three to eight weeks, from memory; the farm's own are
 * better.
 */
export interface RestDays {
  readonly early: number;
  readonly likely: number;
  readonly late: number;
}

/** First malting day three ways, and whether a test or only the rest after harvest says so. */
export interface FirstMaltingDay {
  readonly early: number;
  readonly likely: number;
  readonly late: number;
  readonly basis: "measured" | "rest days";
}

/**
 * The first day a lot may be malted. The lot is awake from the first test of its latest unbroken row of
 * passes (germinative energy at or above `threshold`, usually 0.95). A lot whose latest test failed still
 * sleeps: its days are the harvest day plus the rest, but not before the day after that test. Days are day
 * numbers of core/calendar.ts.
 */
export function firstMaltingDay(
  harvestDay: number,
  results: readonly GerminationResult[],
  threshold: number,
  rest: RestDays,
): FirstMaltingDay {
  if (!(threshold > 0 && threshold <= 1)) {
    throw new RangeError(
      `The germinative energy asked for must be a fraction up to 1 (0.95 for 95 %), not ${threshold}.`,
    );
  }
  if (!(rest.early >= 0 && rest.early <= rest.likely && rest.likely <= rest.late)) {
    throw new RangeError("Days of rest must not be negative and must run early, likely, late.");
  }
  const byDay = [...results].sort((a, b) => a.day - b.day);
  const lastFail = byDay.findLastIndex((result) => result.germinativeEnergy < threshold);
  const firstPass = byDay[lastFail + 1];
  if (firstPass !== undefined) {
    return { early: firstPass.day, likely: firstPass.day, late: firstPass.day, basis: "measured" };
  }
  const notBefore = lastFail < 0 ? -Infinity : byDay[lastFail]!.day + 1;
  const after = (days: number) => Math.max(harvestDay + days, notBefore);
  return { early: after(rest.early), likely: after(rest.likely), late: after(rest.late), basis: "rest days" };
}
