import { type Candidate, cropOf, lotFits, type RunChoice } from "./candidate.ts";
import { boardOf } from "./polish.ts";
import type { Problem } from "./problem.ts";
import type { Slot } from "./slots.ts";
import { cleaningMinutes, type Stretch, stretchesOf } from "./vessels.ts";

/** Runs that one more may stand in for. */
const MOST_CLASHES = 2;

/**
 * Runs that might be made beside those of a candidate, or instead of one or two of them: for each malt, lot and day the slot that clashes
 * with the fewest, of these the one that takes its vessels for the least time.
 */
export function runOptions(problem: Problem, { runs }: Candidate): RunChoice[] {
  const fixed = boardOf(problem, { runs: runs.filter((run) => run.fixed) });
  const free = runs.filter((run) => !run.fixed);
  const clashesOf = clashCounter(problem, free);
  const clashes = new Map<string, number>();
  const found: RunChoice[] = [];
  // The tail of a lot stays what it is.
  const finished = new Set(runs.filter((run) => run.lot2 >= 0).map((run) => run.lot));
  const standing = new Set(free.map((run) => `${run.slot.index} ${run.lot}`));
  for (const slots of problem.slotsByMalt) {
    const byDay = Map.groupBy(slots, (slot) => slot.steepDay);
    for (const ofDay of byDay.values()) {
      for (const lot of problem.lots) {
        if (finished.has(lot.index)) continue;
        let best: { slot: Slot; count: number } | null = null;
        for (const slot of ofDay) {
          if (!lotFits(problem, slot, lot.index) || !fixed.fits(slot, lot.crop)) continue;
          if (standing.has(`${slot.index} ${lot.index}`)) continue;
          const key = `${slot.index} ${lot.crop}`;
          let count = clashes.get(key);
          if (count === undefined) clashes.set(key, count = clashesOf(slot, lot.crop));
          if (count > MOST_CLASHES) continue;
          if (!best || count < best.count || (count === best.count && minutes(slot) < minutes(best.slot))) {
            best = { slot, count };
          }
        }
        if (best) found.push({ slot: best.slot, lot: lot.index, lot2: -1, fixed: null });
      }
    }
  }
  return found;
}

function minutes({ times }: Slot): number {
  return times[3] - times[0];
}

/** Counts the runs that would have to go for a slot. */
function clashCounter(problem: Problem, runs: readonly RunChoice[]): (slot: Slot, crop: number) => number {
  const cleaning = cleaningMinutes(problem);
  const stays = problem.season.vessels.map((): (Stretch & { run: RunChoice; crop: number })[] => []);
  for (const run of runs) {
    for (const one of stretchesOf(run.slot)) {
      stays[one.vessel]?.push({ ...one, run, crop: cropOf(problem, run) });
    }
  }
  return (slot, crop) => {
    const gone = new Set<RunChoice>();
    for (const { vessel, from, to } of stretchesOf(slot)) {
      const gap = cleaning[vessel] as number[][];
      for (const one of stays[vessel] as (typeof stays)[number]) {
        const isClear = one.to + ((gap[one.crop] as number[])[crop] as number) <= from ||
          to + ((gap[crop] as number[])[one.crop] as number) <= one.from;
        if (!isClear) gone.add(one.run);
      }
    }
    return gone.size;
  };
}
