import type { Candidate, RunChoice } from "./candidate.ts";
import type { Evaluator } from "./evaluate.ts";

/** Where there are very many runs one of so many gives way at once: one by one, each with a look at the whole year, would take for ever. */
const RUNS_TO_ONE = 100;

/** The last free runs whose malt comes into the store by `day`: one, or of very many runs a few; none when there are none. */
export function lastRunsBefore(runs: readonly RunChoice[], day: number): RunChoice[] {
  const free = runs.filter((run) => !run.fixed && run.slot.stripDay <= day);
  // Of runs stripped on one day the one that stands last gives way first.
  return free.map((run, index) => ({ run, index }))
    .sort((a, b) => b.run.slot.stripDay - a.run.slot.stripDay || b.index - a.index)
    .slice(0, Math.max(1, Math.floor(runs.length / RUNS_TO_ONE)))
    .map(({ run }) => run);
}

/** Loads runs less, and leaves them out when that is not enough, until the malt store holds what comes; the evaluator is told of it. */
export function withoutCrowding(evaluator: Evaluator, candidate: Candidate): Candidate {
  let { runs } = candidate;
  for (;;) {
    const { firstDayOver: day } = evaluator.evaluate({ ...candidate, runs }, 1);
    const crowding = new Set(day === null ? [] : lastRunsBefore(runs, day));
    if (crowding.size === 0) return { ...candidate, runs };
    evaluator.hurry.crowded = true;
    runs = runs.flatMap((run) => {
      if (!crowding.has(run)) return [run];
      return (run.loadShare ?? 1) > 0 ? [{ ...run, loadShare: 0 }] : [];
    });
  }
}
