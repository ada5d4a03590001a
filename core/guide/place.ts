import { STEP_DAYS } from "../bound/model.ts";
import { byStart, type Candidate, cropOf, lotFits, type RunChoice } from "../search/candidate.ts";
import { drawnFor, mostDrawnFor } from "../search/loads.ts";
import { boardOf } from "../search/polish.ts";
import type { Problem } from "../search/problem.ts";
import { firstFrom, type Slot } from "../search/slots.ts";
import type { VesselBoard } from "../search/vessels.ts";
import { G_PER_TONNE } from "../units.ts";
import type { WeekRuns, Weeks } from "./weekly.ts";

/** A run of a week as it is wanted: of one lot, with a load in grams. */
interface Wanted {
  readonly malt: number;
  readonly lot: number;
  readonly from: number;
  readonly drawG: number;
}

/** Weeks in which a run is tried, from its own: the nearest first. */
const NEAR_WEEKS = [0, 1, -1, 2, -2, 3, -3] as const;

/**
 * The runs of `weeks` in slots that lots' clocks and vessels allow, beside the fixed runs and with the brew days of `from`; a run that
 * finds no room within three weeks is left out. `partLoads`: each is loaded as the week asks, not as far as the stock goes.
 */
export function placeRuns(
  problem: Problem,
  { runs: wanted, substituted }: Weeks,
  from: Candidate,
  partLoads: boolean,
): Candidate {
  const runs = from.runs.filter((run) => run.fixed);
  const board = boardOf(problem, { runs });
  for (const one of wanted.flatMap(runsOf)) {
    const slot = slotFor(problem, board, one);
    if (!slot) continue;
    const run: RunChoice = { slot, lot: one.lot, lot2: -1, fixed: null };
    board.put(slot, cropOf(problem, run));
    runs.push(partLoads ? { ...run, loadShare: shareOf(problem, run, one.drawG) } : run);
  }
  return { runs: runs.sort(byStart), day: from.day.slice(), substituted };
}

/** A week's runs one by one, alike in load, each of the lot of which most is left to draw. */
function runsOf({ malt, from, count, draws }: WeekRuns): Wanted[] {
  const left = draws.map((draw) => draw.massT);
  const eachT = left.reduce((sum, massT) => sum + massT, 0) / count;
  return Array.from({ length: count }, () => {
    const most = left.indexOf(Math.max(...left));
    left[most] = (left[most] as number) - eachT;
    return { malt, lot: draws[most]?.lot ?? -1, from, drawG: eachT * G_PER_TONNE };
  }).filter((one) => one.lot >= 0);
}

/** The slot in the week, or else in a week near it, that leaves most room for other runs. */
function slotFor(problem: Problem, board: VesselBoard, { malt, lot, from }: Wanted): Slot | null {
  const slots = problem.slotsByMalt[malt] ?? [];
  const crop = problem.lots[lot]?.crop ?? 0;
  for (const weeks of NEAR_WEEKS) {
    const day = from + weeks * STEP_DAYS;
    const begin = firstFrom(slots, day), end = firstFrom(slots, day + STEP_DAYS);
    let first: Slot | null = null;
    for (const slot of slots.slice(begin, end)) {
      if (first && !roomier(slot, first)) continue;
      if (lotFits(problem, slot, lot) && board.fits(slot, crop)) first = slot;
    }
    if (first) return first;
  }
  return null;
}

/** Whether a slot leaves more room than another: fewer vessels, then less time, then sooner done. */
function roomier(one: Slot, other: Slot): boolean {
  const vessels = (slot: Slot) => new Set(slot.vessels).size;
  const minutes = (slot: Slot) => slot.times[3] - slot.times[0];
  const less = vessels(one) - vessels(other) || minutes(one) - minutes(other) ||
    one.times[3] - other.times[3];
  return less < 0;
}

/** How far between the least and the most of its vessels a run is loaded, 0 to 1. */
function shareOf(problem: Problem, run: RunChoice, drawG: number): number {
  const crop = cropOf(problem, run);
  const loss = problem.materials[run.slot.malt]?.made?.screeningLoss ?? 0;
  const least = drawnFor(run.slot.leastG[crop] as number, loss);
  const most = mostDrawnFor(run.slot.greatestG[crop] as number, loss);
  return Math.min(1, Math.max(0, (drawG - least) / Math.max(1, most - least)));
}
