import { byStart, type Candidate, cropOf, lotFits, nothingSubstituted, type RunChoice } from "./candidate.ts";
import type { Chance } from "./chance.ts";
import { compareScores } from "./compare.ts";
import type { Evaluation, Evaluator, Score } from "./evaluate.ts";
import { drawnFor, maltOf, mostDrawnFor } from "./loads.ts";
import { boardOf } from "./polish.ts";
import type { Demand, Line, Problem } from "./problem.ts";
import { firstFrom, type Slot } from "./slots.ts";
import type { VesselBoard } from "./vessels.ts";

/** Needs of its brew that one run is tried to cover, and slots before the brew that are tried for it. */
const SIZES = [1, 2, 4] as const;
const MOST_SLOTS = 3;
/** Slots looked at on the way to those that fit. */
const MOST_SEEN = 400;

/**
 * A plan for a malt store with little room: brews one by one, by class and day, each with the malt at hand or with runs as late and
 * as small as it needs, and taken only when the store holds it all. Brews that are not taken have no day. The other start of the
 * search where the naive plan crowds the store.
 */
export function sparingPlan(
  problem: Problem,
  evaluator: Evaluator,
  fixed: readonly RunChoice[],
  dated: Int32Array,
): Candidate {
  const day = dated.map((on, demand) => problem.demands[demand]?.booked ? on : -1);
  let runs = [...fixed];
  const substituted = nothingSubstituted(problem);
  let score = evaluator.evaluate({ runs, day, substituted }, 1).score;
  const board = boardOf(problem, { runs });
  const order = [...problem.demands].filter(({ index, booked }) => !booked && (dated[index] as number) >= 0)
    .sort((a, b) => a.class - b.class || (dated[a.index] as number) - (dated[b.index] as number));
  for (const demand of order) {
    day[demand.index] = dated[demand.index] as number;
    const taken = addBrew(problem, evaluator, board, { runs, day, substituted }, score, demand);
    if (taken) ({ runs, score } = taken);
    else day[demand.index] = -1;
  }
  return { runs, day, substituted };
}

interface Way {
  added: readonly RunChoice[];
  runs: RunChoice[];
  evaluation: Evaluation;
}

/** The plan with one more brew, or null when vessels or malt store do not hold what it needs: of all ways the one that takes the fewest place-days. */
function addBrew(
  problem: Problem,
  evaluator: Evaluator,
  board: VesselBoard,
  candidate: Candidate,
  before: Score,
  demand: Demand,
): { runs: RunChoice[]; score: Score } | null {
  const { runs, day } = candidate;
  const holds = ({ score, status }: Evaluation) =>
    status[demand.index] !== 0 && compareScores(score, before) < 0;
  let best: Way | null = null;
  // With none of its malts made for it, one, or more: a malt that is not made for it lies there or is bought.
  let ways: Way[] = [{ added: [], runs, evaluation: evaluator.evaluate(candidate, 1) }];
  const note = (way: Way) => {
    if (!holds(way.evaluation)) return;
    if (!best || way.evaluation.placeDays < best.evaluation.placeDays) best = way;
  };
  for (const way of ways) note(way);
  for (const line of demand.lines) {
    const longer: Way[] = [];
    for (const way of ways) {
      for (const run of way.added) board.put(run.slot, cropOf(problem, run));
      let least: Way | null = null;
      for (const run of runsFor(problem, board, line, day[demand.index] as number)) {
        const next = [...way.runs, run].sort(byStart);
        const found: Way = {
          added: [...way.added, run],
          runs: next,
          evaluation: evaluator.evaluate({ ...candidate, runs: next }, 1),
        };
        note(found);
        const by = found.evaluation.score.broken - (least?.evaluation.score.broken ?? Infinity);
        if (by < 0 || (by === 0 && least && found.evaluation.placeDays < least.evaluation.placeDays)) {
          least = found;
        }
      }
      if (least) longer.push(least);
      for (const run of way.added) board.remove(run.slot);
    }
    ways = [...ways, ...longer];
  }
  const chosen = best as Way | null;
  if (!chosen) return null;
  for (const run of chosen.added) board.put(run.slot, cropOf(problem, run));
  return { runs: chosen.runs, score: chosen.evaluation.score };
}

/** The last runs whose malt is ready for a line's brew, of different sizes. */
function runsFor(problem: Problem, board: VesselBoard, line: Line, brewDay: number): RunChoice[] {
  const material = problem.materials[line.material];
  const slots = problem.slotsByMalt[line.material] ?? [];
  if (!material?.made) return [];
  const found: RunChoice[] = [];
  let seen = 0;
  let fitting = 0;
  let lastStrip = Infinity;
  for (let at = slots.length - 1; at >= 0 && seen < MOST_SEEN && fitting < MOST_SLOTS; at--) {
    const slot = slots[at] as Slot;
    if (slot.stripDay + material.restDays > brewDay || slot.stripDay >= lastStrip) continue;
    seen++;
    const lots = problem.lots.filter((lot) =>
      lot.lot.owner === material.owner && lotFits(problem, slot, lot.index) && board.fits(slot, lot.crop)
    );
    if (lots.length === 0) continue;
    fitting++;
    lastStrip = slot.stripDay;
    for (const lot of lots) {
      const run: RunChoice = { slot, lot: lot.index, lot2: -1, fixed: null };
      const shares = SIZES.map((size) => shareFor(problem, slot, lot.index, line, size));
      for (const loadShare of new Set(shares)) found.push({ ...run, loadShare });
    }
  }
  return found;
}

/** A run for one line as chance has it: late or not so late, for one brew or for two. Null when there is none. */
export function chanceRunFor(
  problem: Problem,
  board: VesselBoard,
  chance: Chance,
  line: Line,
  brewDay: number,
): RunChoice | null {
  const material = problem.materials[line.material];
  const slots = problem.slotsByMalt[line.material] ?? [];
  if (!material?.made || slots.length === 0) return null;
  const ready = (slot: Slot) => slot.stripDay + material.restDays;
  const by = brewDay - chance.int(0, 1) * chance.int(0, LATEST_DAYS);
  // Slots stand by steep-in; those that end too late are few.
  let at = firstFrom(slots, by - material.restDays) - 1;
  for (let tries = 0; at >= 0 && tries < MOST_SEEN; tries++, at--) {
    const slot = slots[at] as Slot;
    if (ready(slot) > brewDay) continue;
    const lots = problem.lots.filter((lot) =>
      lot.lot.owner === material.owner && lotFits(problem, slot, lot.index) && board.fits(slot, lot.crop)
    );
    if (lots.length === 0) continue;
    const lot = chance.pick(lots).index;
    return {
      slot,
      lot,
      lot2: -1,
      fixed: null,
      loadShare: shareFor(problem, slot, lot, line, chance.int(1, 2)),
    };
  }
  return null;
}

/** Days before the last start that a run by chance may lie. */
const LATEST_DAYS = 20;

/** How far to load a run so that it covers `times` the need of a line. */
function shareFor(problem: Problem, slot: Slot, lot: number, line: Line, times: number): number {
  const crop = problem.lots[lot]?.crop ?? 0;
  const loss = problem.materials[line.material]?.made?.screeningLoss ?? 0;
  const least = drawnFor(slot.leastG[crop] as number, loss);
  const most = mostDrawnFor(slot.greatestG[crop] as number, loss);
  const perDraw = maltOf(problem, { slot, lot, lot2: -1, fixed: null }, 1e6, 0) / 1e6;
  const wantedG = times * SPARE * line.bookMassG / perDraw;
  return Math.min(1, Math.max(0, (wantedG - least) / Math.max(1, most - least)));
}

/** Somewhat more than the book's weight: a lot's own extract may be lower. */
const SPARE = 1.03;
