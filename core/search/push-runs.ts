import { byStart, type Candidate, cropOf, lotFits, type RunChoice } from "./candidate.ts";
import { compareScores } from "./compare.ts";
import type { Evaluator } from "./evaluate.ts";
import { boardOf } from "./polish.ts";
import type { Problem } from "./problem.ts";
import { firstFrom, type Slot } from "./slots.ts";
import type { VesselBoard } from "./vessels.ts";

/** A run that found no place: what it makes of which lot, and when it was to start, in epoch minutes. */
export interface Homeless {
  malt: number;
  lot: number;
  start: number;
  day: number;
}

/** Runs that one run may push on, one after the other. */
const LONGEST = 8;
/** Days within which a pushed run is started. */
const REACH_DAYS = 21;
/** Between two loads of a vessel it is cleaned: what comes nearer than this, in minutes, may be in the way. */
const NEAR_MINUTES = 3 * 1440;

/**
 * Brings in runs that found no place by pushing on those in their way, each to its next legal start, later or earlier, until one finds
 * room; as long as the plan makes more by it, or costs less with `changeCents` for every run that is pushed.
 */
export function pushRuns(
  problem: Problem,
  evaluator: Evaluator,
  start: Candidate,
  homeless: readonly Homeless[],
  { changeCents, breadth, tries }: { changeCents: number; breadth: number; tries: number },
): Candidate {
  if (homeless.length === 0) return start;
  const board = boardOf(problem, start);
  let here = start;
  let { score } = evaluator.evaluate(start, breadth);
  let left = tries;
  for (const one of homeless) {
    for (const way of [1, -1] as const) {
      if (left <= 0) return here;
      const pushed = cascade(problem, board, here.runs, one, way);
      if (!pushed) continue;
      left--;
      const candidate = { ...here, runs: pushed.runs };
      const next = evaluator.evaluate(candidate, breadth).score;
      const moneyCents = next.moneyCents + pushed.changes * changeCents;
      if (compareScores({ ...next, moneyCents }, score) < 0) {
        [here, score] = [candidate, next];
        break;
      }
      pushed.undo();
    }
  }
  return here;
}

interface Pushed {
  runs: RunChoice[];
  changes: number;
  undo: () => void;
}

/** One run put in, and what is in its way pushed on in one direction; null when that has no end. The board follows until `undo`. */
function cascade(
  problem: Problem,
  board: VesselBoard,
  before: readonly RunChoice[],
  homeless: Homeless,
  way: 1 | -1,
): Pushed | null {
  let runs = [...before];
  const undone: (() => void)[] = [];
  const undo = () => {
    for (const back of undone.reverse()) back();
  };
  const settled = new Set<RunChoice>();
  const queue: Homeless[] = [homeless];
  for (let changes = 1; queue.length > 0; changes++) {
    const one = queue.shift() as Homeless;
    const place = changes > LONGEST ? null : nextPlace(problem, board, runs, one, way, settled);
    if (!place) {
      undo();
      return null;
    }
    for (const run of place.inTheWay) {
      board.remove(run.slot);
      undone.push(() => board.put(run.slot, cropOf(problem, run)));
      queue.push({ malt: run.slot.malt, lot: run.lot, start: run.slot.times[0], day: run.slot.steepDay });
    }
    const choice: RunChoice = { slot: place.slot, lot: one.lot, lot2: -1, fixed: null };
    board.put(choice.slot, cropOf(problem, choice));
    undone.push(() => board.remove(choice.slot));
    settled.add(choice);
    runs = [...runs.filter((run) => !place.inTheWay.includes(run)), choice];
  }
  return { runs: runs.sort(byStart), changes: settled.size, undo };
}

/** The next start in a direction that is free, or that one run alone stands in the way of, which may be pushed. */
function nextPlace(
  problem: Problem,
  board: VesselBoard,
  runs: readonly RunChoice[],
  { malt, lot, start, day }: Homeless,
  way: 1 | -1,
  settled: ReadonlySet<RunChoice>,
): { slot: Slot; inTheWay: RunChoice[] } | null {
  const slots = problem.slotsByMalt[malt] ?? [];
  const from = firstFrom(slots, way > 0 ? day : day - REACH_DAYS);
  const to = firstFrom(slots, way > 0 ? day + REACH_DAYS : day + 1);
  const crop = problem.lots[lot]?.crop ?? 0;
  for (let i = 0; i < to - from; i++) {
    const slot = slots[way > 0 ? from + i : to - 1 - i] as Slot;
    if ((slot.times[0] - start) * way < 0 || !lotFits(problem, slot, lot)) continue;
    if (board.fits(slot, crop)) return { slot, inTheWay: [] };
    const near = runs.filter((run) => meet(run.slot, slot));
    for (const run of near) {
      if (run.fixed || settled.has(run) || run.lot2 >= 0) continue;
      board.remove(run.slot);
      const fits = board.fits(slot, crop);
      board.put(run.slot, cropOf(problem, run));
      if (fits) return { slot, inTheWay: [run] };
    }
  }
  return null;
}

/** Whether two runs come near each other in a vessel. */
function meet(a: Slot, b: Slot): boolean {
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      if (a.vessels[i] !== b.vessels[j]) continue;
      const apart = Math.max(a.times[i] as number, b.times[j] as number) -
        Math.min(a.times[i + 1] as number, b.times[j + 1] as number);
      if (apart < NEAR_MINUTES) return true;
    }
  }
  return false;
}
