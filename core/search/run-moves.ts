/** Random changes of runs: each is made at once where it is legal, and returns how to take it back; null when it is not. */
import { cropOf, lotFits, mayJoin, type RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import { type Position, replace, type Undo } from "./position.ts";
import { firstFrom, type Slot } from "./slots.ts";

/** How far runs are loaded where the malt store is small. */
const LOAD_SHARES = [0, 0.25, 0.5, 0.75, 1] as const;

/** A run by chance, -1 when it is not free to change. */
function freeRun({ runs, chance }: Position): number {
  if (runs.length === 0) return -1;
  const at = chance.int(0, runs.length - 1);
  return (runs[at] as RunChoice).fixed ? -1 : at;
}

/** One lot (of an owner, where that is asked) that may be steeped in the slot, by chance, the ones that end first more often. */
function lotFor(here: Position, slot: Slot, owner?: string): number {
  const { problem, chance } = here;
  const fitting = problem.lots.filter((lot) =>
    (owner === undefined || lot.lot.owner === owner) && lotFits(problem, slot, lot.index)
  );
  if (fitting.length === 0) return -1;
  if (chance.int(0, 2) > 0) {
    const last = (index: number) => problem.lots[index]?.clocks[slot.malt]?.lastDay ?? Infinity;
    return fitting.reduce(
      (best, lot) => last(lot.index) < last(best) ? lot.index : best,
      (fitting[0] as { index: number }).index,
    );
  }
  return chance.pick(fitting).index;
}

/** A run more: mostly of a malt that is short, early enough to be ready for it. */
export function addRun(here: Position, evaluation: Evaluation): Undo | null {
  const { problem, board, chance, crowded } = here;
  const lacks = evaluation.deficits.filter((one) => problem.materials[one.material]?.made);
  let malt: number;
  let around: number | null = null;
  if (lacks.length > 0 && chance.int(0, 9) < 7) {
    const lack = chance.pick(lacks);
    malt = lack.material;
    around = lack.day - (problem.materials[malt]?.restDays ?? 0) - 8;
  } else malt = chance.int(0, problem.maltCount - 1);
  const slots = problem.slotsByMalt[malt] ?? [];
  if (slots.length === 0) return null;
  let at = chance.int(0, slots.length - 1);
  if (around !== null) {
    at = firstFrom(slots, around - chance.int(0, 50));
  }
  for (let tries = 0; tries < 12; tries++, at++) {
    const slot = slots[at];
    if (!slot) break;
    const lot = lotFor(here, slot, problem.materials[malt]?.owner);
    if (lot < 0) continue;
    const crop = problem.lots[lot]?.crop ?? 0;
    if (!board.fits(slot, crop)) continue;
    const run: RunChoice = {
      slot,
      lot,
      lot2: -1,
      fixed: null,
      ...(crowded ? { loadShare: chance.pick(LOAD_SHARES) } : {}),
    };
    const before = here.runs;
    board.put(slot, crop);
    replace(here, [...before, run]);
    return () => {
      board.remove(slot);
      here.runs = before;
    };
  }
  return null;
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
  const { problem, chance } = here;
  const at = freeRun(here);
  if (at < 0) return null;
  const run = here.runs[at] as RunChoice;
  const slots = problem.slotsByMalt[run.slot.malt] ?? [];
  if (slots.length < 2) return null;
  let to = chance.int(0, 3) === 0
    ? chance.int(0, slots.length - 1)
    : firstFrom(slots, run.slot.steepDay + chance.int(-24, 24));
  for (let tries = 0; tries < 10; tries++, to++) {
    const slot = slots[to];
    if (!slot) break;
    if (slot === run.slot || !lotFits(problem, slot, run.lot)) continue;
    const keepsTail = run.lot2 < 0 || lotFits(problem, slot, run.lot2);
    const undo = exchange(here, at, { ...run, slot, lot2: keepsTail ? run.lot2 : -1 });
    if (undo) return undo;
  }
  return null;
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

/** Two runs change days. */
export function swapRuns(here: Position): Undo | null {
  const { problem, board } = here;
  const a = freeRun(here);
  const b = freeRun(here);
  if (a < 0 || b < 0 || a === b) return null;
  const one = here.runs[a] as RunChoice;
  const two = here.runs[b] as RunChoice;
  if (one.lot === two.lot && one.slot.malt === two.slot.malt) return null;
  const like = (slot: Slot, malt: number) =>
    here.slotsOn(slot.steepDay).find((other) => other.malt === malt && other.times[0] === slot.times[0]);
  const slotA = like(one.slot, two.slot.malt);
  const slotB = like(two.slot, one.slot.malt);
  if (
    !slotA || !slotB || !lotFits(problem, slotA, two.lot) || !lotFits(problem, slotB, one.lot)
  ) return null;
  const before = here.runs;
  board.remove(one.slot);
  board.remove(two.slot);
  const restore = () => {
    board.put(one.slot, cropOf(problem, one));
    board.put(two.slot, cropOf(problem, two));
    here.runs = before;
  };
  if (!board.fits(slotA, cropOf(problem, two))) {
    restore();
    return null;
  }
  board.put(slotA, cropOf(problem, two));
  if (!board.fits(slotB, cropOf(problem, one))) {
    board.remove(slotA);
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
