import { cropOf, type RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import { type Position, replace, type Undo } from "./position.ts";
import { lotFor, runOf, slotInWeek, wanted, WEEK } from "./run-chances.ts";
import { firstFrom, type Slot } from "./slots.ts";

/** Days within which a run may stand in the way of another, and slots that are tried for one that does. */
const MOST_APART = 14;
const INSERT_TRIES = 4;

/** A run more where another stands in the way: that one moves aside, or goes. */
export function insertRun(here: Position, evaluation: Evaluation): Undo | null {
  const { problem, board, chance } = here;
  const want = wanted(here, evaluation);
  const slots = want ? problem.slotsByMalt[want.malt] ?? [] : [];
  if (!want || slots.length === 0) return null;
  const from = firstFrom(slots, want.day);
  const count = firstFrom(slots, want.day + WEEK) - from;
  for (let tries = 0; tries < INSERT_TRIES && count > 0; tries++) {
    const slot = slots[from + chance.int(0, count - 1)] as Slot;
    const lot = lotFor(here, slot, problem.materials[want.malt]?.owner);
    const crop = problem.lots[lot]?.crop ?? 0;
    const at = lot < 0 || board.fits(slot, crop) ? -1 : inTheWay(here, slot, crop);
    if (at < 0) continue;
    const before = here.runs;
    const old = before[at] as RunChoice;
    board.remove(old.slot);
    board.put(slot, crop);
    const aside = slotInWeek(here, problem.slotsByMalt[old.slot.malt] ?? [], besides(here, old), old.lot);
    if (aside) board.put(aside, cropOf(problem, old));
    const kept: RunChoice[] = aside ? [{ ...old, slot: aside, lot2: -1 }] : [];
    replace(here, [...before.filter((_, i) => i !== at), ...kept, runOf(here, slot, lot)]);
    return () => {
      if (aside) board.remove(aside);
      board.remove(slot);
      board.put(old.slot, cropOf(problem, old));
      here.runs = before;
    };
  }
  return null;
}

/** The one free run that alone stands in the way of a slot, -1 when there is none. */
function inTheWay(here: Position, slot: Slot, crop: number): number {
  const { problem, board, runs } = here;
  for (let i = 0; i < runs.length; i++) {
    const run = runs[i] as RunChoice;
    if (run.fixed || Math.abs(run.slot.steepDay - slot.steepDay) > MOST_APART) continue;
    board.remove(run.slot);
    const fits = board.fits(slot, crop);
    board.put(run.slot, cropOf(problem, run));
    if (fits) return i;
  }
  return -1;
}

/** First day of a week close by, before or behind. */
function besides({ chance }: Position, { slot }: RunChoice): number {
  return slot.steepDay + chance.int(-MOST_APART, MOST_APART - WEEK);
}
