/** Where runs by chance come from: which run, which lot, what is wanted, and where the vessels have room for it. */
import { lotFits, type RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import type { Position } from "./position.ts";
import { firstFrom, type Slot } from "./slots.ts";

/** How far runs are loaded where the malt store is small. */
export const LOAD_SHARES = [0, 0.25, 0.5, 0.75, 1] as const;

/** A run by chance, -1 when it is not free to change. */
export function freeRun({ runs, chance }: Position): number {
  if (runs.length === 0) return -1;
  const at = chance.int(0, runs.length - 1);
  return (runs[at] as RunChoice).fixed ? -1 : at;
}

/** One lot (of an owner, where that is asked) that may be steeped in the slot, by chance, the ones that end first more often. */
export function lotFor(here: Position, slot: Slot, owner?: string): number {
  const { problem, chance } = here;
  const firstToEnd = chance.int(0, 2) > 0;
  let pick = -1;
  let least = Infinity;
  let seen = 0;
  for (const lot of problem.lots) {
    if ((owner !== undefined && lot.lot.owner !== owner) || !lotFits(problem, slot, lot.index)) continue;
    if (!firstToEnd) {
      if (chance.int(0, seen++) === 0) pick = lot.index;
      continue;
    }
    const last = lot.clocks[slot.malt]?.lastDay ?? Infinity;
    if (pick >= 0 && last >= least) continue;
    pick = lot.index;
    least = last;
  }
  return pick;
}

/** Days among which a place for a run is looked for. */
const WEEK = 7;

/** A slot in the week from `day` with room in the vessels for a lot, by chance; null when there is none. */
export function slotInWeek(here: Position, slots: readonly Slot[], day: number, lot: number): Slot | null {
  const { problem, board, chance } = here;
  const from = firstFrom(slots, day);
  const count = firstFrom(slots, day + WEEK) - from;
  if (count === 0) return null;
  const crop = problem.lots[lot]?.crop ?? 0;
  const begin = chance.int(0, count - 1);
  for (let i = 0; i < count; i++) {
    const slot = slots[from + (begin + i) % count] as Slot;
    if (lotFits(problem, slot, lot) && board.fits(slot, crop)) return slot;
  }
  return null;
}

/** What a run more should make, and about when to steep it: mostly a malt that is short, early enough to be ready for it. */
function wanted(here: Position, evaluation: Evaluation): { malt: number; day: number } | null {
  const { problem, chance } = here;
  const lacks = evaluation.deficits.filter((one) => problem.materials[one.material]?.made);
  if (lacks.length > 0 && chance.int(0, 9) < 7) {
    const { material, day } = chance.pick(lacks);
    const readyBy = day - (problem.materials[material]?.restDays ?? 0) - 8;
    return { malt: material, day: readyBy - chance.int(0, 50) };
  }
  const malt = chance.int(0, problem.maltCount - 1);
  const slots = problem.slotsByMalt[malt] ?? [];
  return slots.length > 0 ? { malt, day: chance.pick(slots).steepDay } : null;
}

/** A run of a slot and a lot as the search makes it: loaded as far as the stock goes, less only where the malt store is small. */
export function runOf(here: Position, slot: Slot, lot: number): RunChoice {
  const run: RunChoice = { slot, lot, lot2: -1, fixed: null };
  return here.crowded ? { ...run, loadShare: here.chance.pick(LOAD_SHARES) } : run;
}

/** A new run of what is wanted; null where no room was found. */
export function newRun(here: Position, evaluation: Evaluation): RunChoice | null {
  const { problem } = here;
  const want = wanted(here, evaluation);
  const slots = want ? problem.slotsByMalt[want.malt] ?? [] : [];
  const first = want ? slots[firstFrom(slots, want.day)] : undefined;
  if (!want || !first) return null;
  const lot = lotFor(here, first, problem.materials[want.malt]?.owner);
  const slot = lot < 0 ? null : slotInWeek(here, slots, want.day, lot);
  return slot && runOf(here, slot, lot);
}
