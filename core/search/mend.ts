import { dateOf, dayNumber } from "../calendar.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import { instant } from "../zone.ts";
import { byStart, type Candidate, cropOf, lotFits, type RunChoice } from "./candidate.ts";
import { datesLike } from "./dates.ts";
import { plannedDays, runsFrom, substitutedIn } from "./from-plan.ts";
import { loadedWith } from "./loads.ts";
import type { Problem } from "./problem.ts";
import type { Homeless } from "./push-runs.ts";
import { firstFrom } from "./slots.ts";
import type { TankBoard } from "./tanks.ts";
import type { VesselBoard } from "./vessels.ts";

/** An earlier plan as today's season lets it stand. */
export interface Mended {
  candidate: Candidate;
  /** The run of the plan that a choice is, just as it was. */
  as: ReadonlyMap<RunChoice, PlanRun>;
  /** Runs for which there is no place beside the others. */
  homeless: Homeless[];
}

/** Days by which a run may be moved when it cannot be made as it was. */
const REACH_DAYS = 28;

/**
 * An earlier plan as a candidate for today's season: its runs that still stand; those that do not, on the nearest legal start of the
 * same lot, or failing that of another lot; and its brew days, with brews it did not make wherever there is room.
 */
export function mendPlan(
  problem: Problem,
  tanks: TankBoard,
  fixed: readonly RunChoice[],
  plan: Plan,
): Mended {
  const { runs, as, lost, board } = runsFrom(problem, fixed, plan);
  const homeless: Homeless[] = [];
  for (const run of lost) {
    // What was due before now and is neither begun nor booked is over.
    if (run.standing === "under way" || run.steepInAt < problem.asOf) continue;
    const choice = nearest(problem, board, run);
    if (!choice) {
      homeless.push(homelessOf(problem, run));
      continue;
    }
    board.put(choice.slot, cropOf(problem, choice));
    runs.push(choice);
  }
  return {
    candidate: {
      runs: runs.sort(byStart),
      day: datesLike(problem, tanks, plannedDays(plan)).day,
      substituted: substitutedIn(problem, plan),
    },
    as,
    homeless,
  };
}

function homelessOf(problem: Problem, run: PlanRun): Homeless {
  return {
    malt: problem.materials.findIndex((one) => one.maltId === run.maltId),
    lot: problem.lots.findIndex((lot) => lot.id === run.draws[0]?.lotId),
    start: instant(problem.season.zone, run.steepInAt),
    day: dayNumber(dateOf(run.steepInAt)),
  };
}

/** The legal start nearest to the run's own: of its lot within reach, else of another lot, the one that ends first. */
function nearest(problem: Problem, board: VesselBoard, run: PlanRun): RunChoice | null {
  const { malt, lot: own, start, day } = homelessOf(problem, run);
  const slots = problem.slotsByMalt[malt] ?? [];
  const near = slots.slice(firstFrom(slots, day - REACH_DAYS), firstFrom(slots, day + REACH_DAYS + 1))
    .sort((a, b) => Math.abs(a.times[0] - start) - Math.abs(b.times[0] - start) || a.index - b.index);
  const owner = problem.lots[own]?.lot.owner ?? "farm";
  const last = (lot: number) => problem.lots[lot]?.clocks[malt]?.lastDay ?? Infinity;
  const others = problem.lots.filter((one) => one.index !== own && one.lot.owner === owner)
    .map((one) => one.index).sort((a, b) => last(a) - last(b));
  for (const lots of [[own], others]) {
    for (const slot of near) {
      for (const lot of lots) {
        if (lot < 0 || !lotFits(problem, slot, lot)) continue;
        if (board.fits(slot, problem.lots[lot]?.crop ?? 0)) return { slot, lot, lot2: -1, fixed: null };
      }
    }
  }
  return null;
}

/** Grams the run of the plan drew from the lot that its load hangs on: the second, where the first is a finished tail. */
export function drawnBefore(problem: Problem, choice: RunChoice, run: PlanRun): number {
  const lotId = problem.lots[choice.lot2 >= 0 ? choice.lot2 : choice.lot]?.id;
  return run.draws.reduce((sum, draw) => draw.lotId === lotId ? sum + draw.massG : sum, 0);
}

/** The choice loaded as the run of the plan was. */
export function loadedAs(problem: Problem, choice: RunChoice, run: PlanRun): RunChoice {
  return loadedWith(problem, choice, run.draws.reduce((sum, draw) => sum + draw.massG, 0));
}
