import type { FixedRun, Problem } from "../search/problem.ts";
import type { Slot } from "../search/slots.ts";
import { VesselBoard } from "../search/vessels.ts";
import { CROPS } from "../season/quantity.ts";
import { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import { addBins } from "./bins.ts";
import { addBrews, type DemandColumns } from "./brews.ts";
import { addCellar } from "./cellar.ts";
import { addGrain, closeGrain, fixedMoneyOf, type GrainColumns, rawSources } from "./grain.ts";
import { heldSources } from "./held.ts";
import { addPools, closePools, type Pool } from "./malt.ts";
import { addOrders, mostOf } from "./orders.ts";
import { addOrigin } from "./origin.ts";
import { addReserve } from "./reserve.ts";
import { addRuns, type RunColumns } from "./runs.ts";
import { addSpoilt } from "./spoil.ts";
import type { Source } from "./source.ts";
import { type VesselStays, vesselStays } from "./vessel-cuts.ts";

/**
 * A linear relaxation of all plans of a season: every plan that the auditor passes, that keeps the bookings that can be kept,
 * whose runs take the planner's legal slots and that loads no drums, is a point of it, at no more money and no fewer
 * counts. Tonnes and whole currency units; what money no plan can get below stands apart in `fixedMoney`.
 */
export interface BoundModel {
  readonly problem: Problem;
  readonly model: LinearModel;
  readonly grain: GrainColumns;
  readonly runs: readonly RunColumns[];
  /** What the vessels can take. */
  readonly stays: VesselStays;
  readonly sources: readonly Source[];
  /** By material. */
  readonly pools: readonly (Pool | null)[];
  readonly demands: readonly DemandColumns[];
  readonly fixedMoney: number;
}

/** Days of one step of the grid on which runs are counted. */
export const STEP_DAYS = 7;

/** Builds the relaxation. `fixed` are the runs under way and booked, as the search holds them. */
export function boundModel(problem: Problem, fixed: readonly FixedRun[], stepDays = STEP_DAYS): BoundModel {
  const model = new LinearModel();
  const held = heldSources(problem, fixed);
  const grain = addGrain(model, problem, fixed);
  const slots = openSlots(problem, fixed);
  const stays = vesselStays(problem, slots, stepDays);
  const runs = addRuns(model, problem, grain, slots, stays, stepDays);
  addBins(model, problem, grain, runs);
  closeGrain(model, grain);
  const made = [...held, ...rawSources(problem, grain), ...runs.flatMap((run) => run.sources)];
  const sources = [...made, ...addOrders(model, problem, made, stepDays)];
  const pools = addPools(model, problem, sources, (material) => mostStockT(problem, sources, material));
  const demands = addBrews(model, problem, pools);
  closePools(model, pools, addSpoilt(model, pools, demands));
  addCellar(model, problem, demands);
  addOrigin(model, pools, demands);
  addReserve(model, problem, pools, demands);
  const saleCents = problem.demands.reduce((sum, demand) => sum + demand.saleCents, 0);
  // What contracts pay is in the fixed money; a sale that is made gives back what it would cost not to make it.
  model.column(saleCents / 100, 1, 1);
  return {
    problem,
    model,
    grain,
    runs,
    stays,
    sources,
    pools,
    demands,
    fixedMoney: fixedMoneyOf(problem, fixed, grain),
  };
}

/** More extract of a material than demands and twice the floor can use; more stock than that is no better. */
function mostStockT(problem: Problem, sources: readonly Source[], material: number): number {
  const of = problem.materials[material];
  const needG = problem.demands.reduce(
    (sum, demand) => sum + mostOf(demand, material, of?.malt != null),
    0,
  );
  const heldT = sources.reduce(
    (sum, one) => one.material === material ? sum + one.fixedHomeT + one.fixedOtherT : sum,
    0,
  );
  return (needG + 2 * (of?.floorG ?? 0)) / G_PER_TONNE + heldT;
}

/** Slots whose vessels booked runs leave free, for some crop. Runs under way may yet be finished sooner than the search has it. */
function openSlots(problem: Problem, fixed: readonly FixedRun[]): Slot[] {
  const board = new VesselBoard(problem);
  for (const run of fixed) {
    if (run.standing === "booked") board.put(run.slot, problem.lots[run.draws[0]?.lot ?? -1]?.crop ?? 0);
  }
  return problem.slots.filter((slot) =>
    CROPS.some((_, crop) => (slot.greatestG[crop] as number) > 0 && board.fits(slot, crop))
  );
}
