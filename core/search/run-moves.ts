/** Random changes of runs: each is made at once where it is legal, and returns how to take it back; null when it is not. */
import { cropOf, lotFits, mayJoin, type RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import { type Position, replace, type Undo } from "./position.ts";
import { freeRun, LOAD_SHARES, lotFor, newRun, slotInWeek } from "./run-chances.ts";
import type { Slot } from "./slots.ts";

/** Days that a run mostly moves at most. */
const MOST_SHIFT = 24;

/** A run more. */
export function addRun(here: Position, evaluation: Evaluation): Undo | null {
  const { problem, board } = here;
  const run = newRun(here, evaluation);
  if (!run) return null;
  const before = here.runs;
  board.put(run.slot, cropOf(problem, run));
  replace(here, [...before, run]);
  return () => {
    board.remove(run.slot);
    here.runs = before;
  };
}

/** A run less, and one more somewhere else. */
export function relocateRun(here: Position, evaluation: Evaluation): Undo | null {
  const { problem, board } = here;
  const at = freeRun(here);
  if (at < 0) return null;
  const before = here.runs;
  const run = before[at] as RunChoice;
  board.remove(run.slot);
  const other = newRun(here, evaluation);
  if (!other) {
    board.put(run.slot, cropOf(problem, run));
    return null;
  }
  board.put(other.slot, cropOf(problem, other));
  replace(here, before.map((one, i) => i === at ? other : one));
  return () => {
    board.remove(other.slot);
    board.put(run.slot, cropOf(problem, run));
    here.runs = before;
  };
}

/** A run less. */
export function removeRun(here: Position): Undo | null {
  const { problem, board } = here;
  const at = freeRun(here);
  if (at < 0) return null;
  const before = here.runs;
  const run = before[at] as RunChoice;
  board.remove(run.slot);
  here.runs = before.filter((_, i) => i !== at);
  return () => {
    board.put(run.slot, cropOf(problem, run));
    here.runs = before;
  };
}

/** Puts `changed` in the place of run `at`; the board is asked first. */
function exchange(here: Position, at: number, changed: RunChoice): Undo | null {
  const { problem, board } = here;
  const before = here.runs;
  const run = before[at] as RunChoice;
  board.remove(run.slot);
  if (!board.fits(changed.slot, cropOf(problem, changed))) {
    board.put(run.slot, cropOf(problem, run));
    return null;
  }
  board.put(changed.slot, cropOf(problem, changed));
  replace(here, before.map((one, i) => i === at ? changed : one));
  return () => {
    board.remove(changed.slot);
    board.put(run.slot, cropOf(problem, run));
    here.runs = before;
  };
}

/** The same malt on another day, mostly within weeks. */
export function shiftRun(here: Position): Undo | null {
  const { problem, board, chance } = here;
  const at = freeRun(here);
  if (at < 0) return null;
  const run = here.runs[at] as RunChoice;
  const slots = problem.slotsByMalt[run.slot.malt] ?? [];
  if (slots.length < 2) return null;
  const day = chance.int(0, 3) === 0
    ? chance.pick(slots).steepDay
    : run.slot.steepDay + chance.int(-MOST_SHIFT, MOST_SHIFT);
  board.remove(run.slot);
  const slot = slotInWeek(here, slots, day, run.lot);
  board.put(run.slot, cropOf(problem, run));
  if (!slot || slot === run.slot) return null;
  const keepsTail = run.lot2 < 0 || lotFits(problem, slot, run.lot2);
  return exchange(here, at, { ...run, slot, lot2: keepsTail ? run.lot2 : -1 });
}

/** More or less grain in a run. */
export function reloadRun(here: Position): Undo | null {
  const { chance } = here;
  const at = freeRun(here);
  if (at < 0) return null;
  const before = here.runs;
  const loadShare = chance.pick(LOAD_SHARES);
  if (loadShare === (before[at]?.loadShare ?? 1)) return null;
  here.runs = before.map((run, i) => i === at ? { ...run, loadShare } : run);
  return () => {
    here.runs = before;
  };
}

/** Another malt, lot or profile on the same day. */
export function remakeRun(here: Position): Undo | null {
  const { chance } = here;
  const at = freeRun(here);
  if (at < 0) return null;
  const run = here.runs[at] as RunChoice;
  const slot = chance.pick(here.slotsOn(run.slot.steepDay));
  const lot = lotFor(here, slot);
  if (lot < 0 || (slot === run.slot && lot === run.lot)) return null;
  return exchange(here, at, { ...run, slot, lot, lot2: -1 });
}

/** Two runs change days: what is made, and of which lot. */
export function swapRuns(here: Position): Undo | null {
  const { problem, board } = here;
  const a = freeRun(here);
  const b = freeRun(here);
  if (a < 0 || b < 0 || a === b) return null;
  const one = here.runs[a] as RunChoice;
  const two = here.runs[b] as RunChoice;
  if (one.lot === two.lot && one.slot.malt === two.slot.malt) return null;
  const before = here.runs;
  board.remove(one.slot);
  board.remove(two.slot);
  const restore = () => {
    board.put(one.slot, cropOf(problem, one));
    board.put(two.slot, cropOf(problem, two));
    here.runs = before;
  };
  const slotA = slotLike(here, one.slot, two);
  if (slotA) board.put(slotA, cropOf(problem, two));
  const slotB = slotA && slotLike(here, two.slot, one);
  if (!slotB) {
    if (slotA) board.remove(slotA);
    restore();
    return null;
  }
  board.put(slotB, cropOf(problem, one));
  const first: RunChoice = { ...two, slot: slotA, lot2: -1 };
  const second: RunChoice = { ...one, slot: slotB, lot2: -1 };
  replace(here, before.map((run, i) => i === a ? first : i === b ? second : run));
  return () => {
    board.remove(slotA);
    board.remove(slotB);
    restore();
  };
}

/** A slot on the day of `slot` for what `run` makes, by chance, at the same minute rather than at another. */
function slotLike(here: Position, slot: Slot, run: RunChoice): Slot | null {
  const { problem, board, chance } = here;
  const slots = here.slotsOn(slot.steepDay);
  const begin = chance.int(0, slots.length - 1);
  let found: Slot | null = null;
  for (let i = 0; i < slots.length; i++) {
    const other = slots[(begin + i) % slots.length] as Slot;
    if (other.malt !== run.slot.malt || !lotFits(problem, other, run.lot)) continue;
    if (found && other.times[0] !== slot.times[0]) continue;
    if (!board.fits(other, cropOf(problem, run))) continue;
    if (other.times[0] === slot.times[0]) return other;
    found = other;
  }
  return found;
}

/** A run finishes its lot with a second one, or no longer does. */
export function joinTail(here: Position): Undo | null {
  const { problem, chance } = here;
  const at = freeRun(here);
  if (at < 0) return null;
  const before = here.runs;
  const run = before[at] as RunChoice;
  let lot2 = -1;
  if (run.lot2 < 0) {
    const others = problem.lots.filter((lot) =>
      mayJoin(problem, run.lot, lot.index) && lotFits(problem, run.slot, lot.index)
    );
    if (others.length === 0) return null;
    lot2 = chance.pick(others).index;
  }
  here.runs = before.map((one, i) => i === at ? { ...run, lot2 } : one);
  return () => {
    here.runs = before;
  };
}
