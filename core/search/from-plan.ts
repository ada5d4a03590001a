import { dateOf, dayNumber } from "../calendar.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import { instant } from "../zone.ts";
import { byStart, type Candidate, cropOf, lotFits, mayJoin, type RunChoice } from "./candidate.ts";
import { DateBoard } from "./dates.ts";
import type { Demand, Problem } from "./problem.ts";
import { firstFrom, type Slot } from "./slots.ts";
import type { TankBoard } from "./tanks.ts";
import { VesselBoard } from "./vessels.ts";

/**
 * What is left of an earlier plan as a candidate for today's season: its runs that can still be started as they were, beside those
 * that are fixed now, and its brew days that are still open; brews it did not make are dated as `dated` has them, where there is room.
 */
export function candidateFrom(
  problem: Problem,
  tanks: TankBoard,
  fixed: readonly RunChoice[],
  dated: Int32Array,
  plan: Plan,
): Candidate {
  return {
    runs: runsFrom(problem, fixed, plan).runs,
    day: daysFrom(problem, tanks, dated, plan),
    substituted: substitutedIn(problem, plan),
  };
}

/**
 * The runs of an earlier plan that can still be started as they were, beside those that are fixed now, all on a board; `as` says
 * which run of the plan a choice is. `lost` are those that cannot, by start.
 */
export function runsFrom(
  problem: Problem,
  fixed: readonly RunChoice[],
  plan: Plan,
): { runs: RunChoice[]; as: Map<RunChoice, PlanRun>; lost: PlanRun[]; board: VesselBoard } {
  const board = new VesselBoard(problem);
  const as = new Map<RunChoice, PlanRun>();
  const lost: PlanRun[] = [];
  const runs = [...fixed];
  runs.forEach((run) => board.put(run.slot, cropOf(problem, run)));
  const known = new Set(fixed.map((run) => run.fixed?.id));
  for (const run of [...plan.runs].sort((a, b) => a.steepInAt < b.steepInAt ? -1 : 1)) {
    if (known.has(run.id)) continue;
    const choice = choiceOf(problem, run);
    const crop = choice ? cropOf(problem, choice) : 0;
    if (!choice || !board.fits(choice.slot, crop)) {
      lost.push(run);
      continue;
    }
    board.put(choice.slot, crop);
    runs.push(choice);
    as.set(choice, run);
  }
  return { runs: runs.sort(byStart), as, lost, board };
}

/** The run as a choice, or null when it cannot be made like that any more. */
function choiceOf(problem: Problem, run: PlanRun): RunChoice | null {
  const slot = slotOf(problem, run);
  const lots = [...new Set(run.draws.map((draw) => problem.lots.findIndex((lot) => lot.id === draw.lotId)))];
  const [lot = -1, lot2 = -1] = lots;
  if (!slot || lots.length > 2 || lot < 0 || !lotFits(problem, slot, lot)) return null;
  if (lots.length === 2 && (lot2 < 0 || !lotFits(problem, slot, lot2) || !mayJoin(problem, lot, lot2))) {
    return null;
  }
  return { slot, lot, lot2, fixed: null };
}

function slotOf(problem: Problem, run: PlanRun): Slot | null {
  const { season } = problem;
  const malt = problem.materials.findIndex((one) => one.maltId === run.maltId);
  const slots = problem.slotsByMalt[malt] ?? [];
  const minute = instant(season.zone, run.steepInAt);
  const vessels = [run.vesselIds.steep, run.vesselIds.bed, run.vesselIds.kiln];
  const day = dayNumber(dateOf(run.steepInAt));
  for (let at = firstFrom(slots, day); at < slots.length && slots[at]?.steepDay === day; at++) {
    const slot = slots[at] as Slot;
    if (slot.times[0] !== minute || slot.profileId !== run.profileId) continue;
    if (slot.vessels.every((vessel, stage) => season.vessels[vessel]?.id === vessels[stage])) return slot;
  }
  return null;
}

/** Where an earlier plan took mostly the substitute that a beer allows: for more than half of what it may be. */
export function substitutedIn(problem: Problem, plan: Plan): Uint8Array {
  const { substitutes, demands, materials, offers } = problem;
  const maltOf = new Map<string, string | null | undefined>([
    ...problem.batches.map((one) => [one.id, materials[one.material]?.maltId] as const),
    ...plan.runs.flatMap((run) => run.outputs.map((one) => [one.batchId, one.maltId] as const)),
    ...plan.orders.map((order) => {
      const offer = offers.find((one) => one.id === order.offerId);
      return [order.batchId, materials[offer?.material ?? -1]?.maltId] as const;
    }),
  ]);
  const brews = new Map(plan.brews.map((brew) => [brew.id, brew]));
  return Uint8Array.from(substitutes, ({ demand, line, material, mostShare }) => {
    const { id, lines } = demands[demand] as Demand;
    const lineId = lines[line]?.lineId;
    let massG = 0, ofItG = 0;
    for (const use of brews.get(id)?.grist ?? []) {
      if (use.lineId !== lineId || use.from.kind !== "batch") continue;
      massG += use.massG;
      if (maltOf.get(use.from.batchId) === materials[material]?.maltId) ofItG += use.massG;
    }
    return ofItG > massG * mostShare / 2 ? 1 : 0;
  });
}

/** Days of brews and deliveries in a plan, by id. */
export function plannedDays(plan: Plan): Map<string, number> {
  return new Map([
    ...plan.brews.map((brew) => [brew.id, dayNumber(brew.on)] as const),
    ...plan.maltDeliveries.map((one) => [one.contractId, dayNumber(one.on)] as const),
  ]);
}

function daysFrom(problem: Problem, tanks: TankBoard, dated: Int32Array, plan: Plan): Int32Array {
  const dates = new DateBoard(problem, tanks);
  const was = plannedDays(plan);
  const put = (demand: number, day: number) => {
    if (day >= 0 && dates.allows(demand, day)) dates.put(demand, day);
  };
  for (const { index, booked } of problem.demands) if (booked) dates.put(index, dated[index] as number);
  for (const { index, id, days, booked } of problem.demands) {
    const day = was.get(id) ?? -1;
    if (!booked && days.includes(day)) put(index, day);
  }
  for (const { index } of problem.demands) {
    if ((dates.day[index] as number) < 0) put(index, dated[index] as number);
  }
  return dates.day;
}
