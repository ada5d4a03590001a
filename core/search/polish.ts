import { byStart, type Candidate, lotFits, mayJoin, type RunChoice } from "./candidate.ts";
import { DateBoard } from "./dates.ts";
import type { Problem } from "./problem.ts";
import type { TankBoard } from "./tanks.ts";
import { VesselBoard } from "./vessels.ts";

/** A short text that is the same for candidates that choose the same. */
export function signature(candidate: Candidate): string {
  const runs = candidate.runs.map((run) => run.fixed ? "f" : `${run.slot.index}.${run.lot}.${run.lot2}`);
  return `${runs.join(" ")}|${candidate.day.join(" ")}`;
}

/** A vessel board with a candidate's runs on it. */
export function boardOf(problem: Problem, candidate: Candidate): VesselBoard {
  const board = new VesselBoard(problem);
  candidate.runs.forEach((run, i) => board.put(run.slot, problem.lots[run.lot]?.crop ?? 0, i));
  return board;
}

/** Every candidate one step away: a run less, a run more, a run made otherwise, a brew on another day. */
export function* neighbours(problem: Problem, tanks: TankBoard, from: Candidate): Generator<Candidate> {
  const board = boardOf(problem, from);
  const crop = (run: RunChoice) => problem.lots[run.lot]?.crop ?? 0;
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
    if (without) board.put(without.slot, crop(without), 0);
    return found;
  };
  for (const run of choices(null)) yield { runs: [...from.runs, run].sort(byStart), day: from.day };
  for (const run of from.runs) {
    if (run.fixed) continue;
    const rest = from.runs.filter((other) => other !== run);
    yield { runs: rest, day: from.day };
    for (const other of choices(run)) yield { runs: [...rest, other].sort(byStart), day: from.day };
    for (const lot of problem.lots) {
      if (run.lot2 < 0 && mayJoin(problem, run.lot, lot.index) && lotFits(problem, run.slot, lot.index)) {
        yield { runs: [...rest, { ...run, lot2: lot.index }].sort(byStart), day: from.day };
      }
    }
  }
  const dates = new DateBoard(problem, tanks, from.day);
  for (const demand of problem.demands) {
    const was = dates.day[demand.index] as number;
    for (const day of demand.days) {
      if (day === was || !dates.allows(demand.index, day)) continue;
      dates.put(demand.index, day);
      yield { runs: from.runs, day: dates.day.slice() };
      dates.put(demand.index, was);
    }
    if (was >= 0 && !demand.booked) {
      dates.put(demand.index, -1);
      yield { runs: from.runs, day: dates.day.slice() };
      dates.put(demand.index, was);
    }
  }
}
