import { byStart, type Candidate, cropOf, lotFits, mayJoin, type RunChoice } from "./candidate.ts";
import { DateBoard } from "./dates.ts";
import type { Problem } from "./problem.ts";
import type { Slot } from "./slots.ts";
import type { TankBoard } from "./tanks.ts";
import { VesselBoard } from "./vessels.ts";

/** A short text that is the same for candidates that choose the same. */
export function signature(candidate: Candidate): string {
  const runs = candidate.runs.map((run) =>
    run.fixed ? "f" : `${run.slot.index}.${run.lot}.${run.lot2}.${run.loadShare ?? 1}`
  );
  return `${runs.join(" ")}|${candidate.day.join(" ")}|${candidate.substituted.join("")}`;
}

/** A vessel board with a candidate's runs on it. */
export function boardOf(problem: Problem, candidate: Pick<Candidate, "runs">): VesselBoard {
  const board = new VesselBoard(problem);
  candidate.runs.forEach((run) => board.put(run.slot, cropOf(problem, run)));
  return board;
}

/** Every candidate one step away: a run less or more, a run made otherwise, two runs
 * with their lots exchanged, several runs less, a brew of raw grain on another day. */
export function* neighbours(problem: Problem, tanks: TankBoard, from: Candidate): Generator<Candidate> {
  const board = boardOf(problem, from);
  const { substituted } = from;
  const choices = (without: RunChoice | null): RunChoice[] => {
    if (without) board.remove(without.slot);
    const found: RunChoice[] = [];
    for (const slot of problem.slots) {
      for (const lot of problem.lots) {
        if (lotFits(problem, slot, lot.index) && board.fits(slot, lot.crop)) {
          found.push({ slot, lot: lot.index, lot2: -1, fixed: null });
        }
      }
    }
    if (without) board.put(without.slot, cropOf(problem, without));
    return found;
  };
  const free = from.runs.filter((run) => !run.fixed);
  const fixed = from.runs.filter((run) => run.fixed);
  const without = (run: RunChoice) => from.runs.filter((other) => other !== run);
  // The few structural steps come first: the exact weighings a season may cost are limited.
  for (const run of free) {
    yield { runs: without(run), day: from.day, substituted };
    for (const lot of problem.lots) {
      if (run.lot2 < 0 && mayJoin(problem, run.lot, lot.index) && lotFits(problem, run.slot, lot.index)) {
        yield {
          runs: [...without(run), { ...run, lot2: lot.index }].sort(byStart),
          day: from.day,
          substituted,
        };
        yield {
          runs: [...without(run), { ...run, lot: lot.index, lot2: run.lot }].sort(byStart),
          day: from.day,
          substituted,
        };
      }
    }
  }
  for (let mask = 0; mask < 1 << Math.min(free.length, 5); mask++) {
    const runs = free.filter((_, i) => i >= 5 || mask & (1 << i));
    if (free.length - runs.length >= 2) {
      yield { runs: [...fixed, ...runs].sort(byStart), day: from.day, substituted };
    }
  }
  yield* swaps(problem, board, from);
  for (const run of free) {
    for (const other of choices(run)) {
      yield { runs: [...without(run), other].sort(byStart), day: from.day, substituted };
    }
  }
  for (const run of choices(null)) {
    yield { runs: [...from.runs, run].sort(byStart), day: from.day, substituted };
  }
  // The weights choose the days of all other brews themselves.
  const dates = new DateBoard(problem, tanks, from.day);
  for (const demand of problem.demands) {
    if (demand.booked || demand.lines.every((line) => problem.materials[line.material]?.malt)) continue;
    const was = dates.day[demand.index] as number;
    for (const day of [...demand.days, -1]) {
      if (day === was || (day >= 0 && !dates.allows(demand.index, day))) continue;
      dates.put(demand.index, day);
      yield { runs: from.runs, day: dates.day.slice(), substituted };
      dates.put(demand.index, was);
    }
  }
}

/** Two runs that change their lots, where the slots allow it. */
function* swaps(problem: Problem, board: VesselBoard, from: Candidate): Generator<Candidate> {
  const { substituted } = from;
  const free = from.runs.filter((run) => !run.fixed);
  for (const one of free) {
    for (const other of free) {
      if (one === other || one.slot.times[0] >= other.slot.times[0]) continue;
      for (const first of likeSlots(problem, one, other)) {
        for (const second of likeSlots(problem, other, one)) {
          if (first === one.slot && second === other.slot && one.lot === other.lot) continue;
          board.remove(one.slot);
          board.remove(other.slot);
          const fits = board.fits(first, cropOf(problem, other));
          if (fits) board.put(first, cropOf(problem, other));
          const both = fits && board.fits(second, cropOf(problem, one));
          if (fits) board.remove(first);
          board.put(one.slot, cropOf(problem, one));
          board.put(other.slot, cropOf(problem, other));
          if (!both) continue;
          const rest = from.runs.filter((run) => run !== one && run !== other);
          const swapped: RunChoice[] = [
            { slot: first, lot: other.lot, lot2: -1, fixed: null },
            { slot: second, lot: one.lot, lot2: -1, fixed: null },
          ];
          yield { runs: [...rest, ...swapped].sort(byStart), day: from.day, substituted };
        }
      }
    }
  }
}

/** Slots at the time of `at` that make the malt of `like` from its lot. */
function likeSlots(problem: Problem, at: RunChoice, like: RunChoice): Slot[] {
  return problem.slots.filter((slot) =>
    slot.times[0] === at.slot.times[0] && slot.malt === like.slot.malt && lotFits(problem, slot, like.lot)
  );
}
