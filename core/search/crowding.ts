import type { Candidate, RunChoice } from "./candidate.ts";
import type { Evaluator } from "./evaluate.ts";

/** The last free run whose malt comes into the store by `day`; null when there is none. */
export function lastRunBefore(runs: readonly RunChoice[], day: number): RunChoice | null {
  let last: RunChoice | null = null;
  for (const run of runs) {
    if (run.fixed || run.slot.stripDay > day) continue;
    if (!last || run.slot.stripDay >= last.slot.stripDay) last = run;
  }
  return last;
}

/** Loads runs less, and leaves them out when that is not enough, until the malt store holds what comes; the evaluator is told of it. */
export function withoutCrowding(evaluator: Evaluator, candidate: Candidate): Candidate {
  let { runs } = candidate;
  for (;;) {
    const { firstDayOver: day } = evaluator.evaluate({ runs, day: candidate.day }, 1);
    const crowding = day === null ? null : lastRunBefore(runs, day);
    if (!crowding) return { runs, day: candidate.day };
    evaluator.hurry.crowded = true;
    runs = (crowding.loadShare ?? 1) > 0
      ? runs.map((run) => run === crowding ? { ...run, loadShare: 0 } : run)
      : runs.filter((run) => run !== crowding);
  }
}
