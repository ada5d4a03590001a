import type { FixedRun, Problem } from "./problem.ts";
import type { Slot } from "./slots.ts";

/** A run as the search chooses it: when and what, from which lot; the load follows from the stock. */
export interface RunChoice {
  slot: Slot;
  lot: number;
  /** A second lot, when this run finishes the first one's tail; -1 for none. */
  lot2: number;
  fixed: FixedRun | null;
  /** How far to load between the least and the most the vessels take, 0 to 1; 1, as far as the stock goes, when left out. */
  loadShare?: number;
}

/** A plan in the making: runs by steep-in, a day (or -1) for every demand, and where a substitute is taken (1) or not (0). */
export interface Candidate {
  runs: RunChoice[];
  day: Int32Array;
  /** By the problem's substitutes. As the search counts, one that is taken goes as far as its beer allows; exact weights mix freely. */
  substituted: Uint8Array;
  /** By lot: grams that runs are not given from the first, as the stores were seen not to yield them; none when left out. */
  cutG?: Float64Array;
}

/** Every line met with its own malt. */
export function nothingSubstituted({ substitutes }: Problem): Uint8Array {
  return new Uint8Array(substitutes.length);
}

export function copyOf(candidate: Candidate): Candidate {
  return {
    runs: [...candidate.runs],
    day: candidate.day.slice(),
    substituted: candidate.substituted.slice(),
    ...(candidate.cutG ? { cutG: candidate.cutG } : {}),
  };
}

/** Crop of the lot a run steeps. */
export function cropOf(problem: Problem, run: RunChoice): number {
  return problem.lots[run.lot]?.crop ?? 0;
}

/** Sorts runs by steep-in; vessels and lots decide between equals, so that the order never depends on history. */
export function byStart(a: RunChoice, b: RunChoice): number {
  return a.slot.times[0] - b.slot.times[0] || a.slot.index - b.slot.index || a.lot - b.lot;
}

/** Whether a lot may be steeped for the slot's malt on the slot's day. */
export function lotFits(problem: Problem, slot: Slot, lotIndex: number): boolean {
  const lot = problem.lots[lotIndex];
  const clock = lot?.clocks[slot.malt];
  if (!lot || !clock || clock.firstDay === null) return false;
  if (slot.steepDay < clock.firstDay || slot.steepDay > clock.lastDay || slot.steepDay < lot.fromDay) {
    return false;
  }
  return (slot.greatestG[lot.crop] as number) > 0;
}

/** Whether the tail of one lot may be finished with another in the same run. */
export function mayJoin(problem: Problem, first: number, second: number): boolean {
  const a = problem.lots[first];
  const b = problem.lots[second];
  if (!a || !b || first === second || a.crop !== b.crop) return false;
  if (a.lot.organic !== b.lot.organic || a.lot.owner !== b.lot.owner) return false;
  return a.energy === null || b.energy === null || Math.abs(a.energy - b.energy) < 0.03;
}
