import { dayNumber, isoDate } from "../calendar.ts";
import type { Plan, PlanBrew, PlanRun } from "../plan/plan.ts";
import { Cellar, type CellarBatch, type Drawn } from "./cellar.ts";
import type { Candidate } from "./candidate.ts";
import { causeOf, type Lack } from "./causes.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import { firmKey, wantsOf } from "./evaluate.ts";
import type { Refusal } from "./fixed.ts";
import { reserveCents, type Taking } from "./money.ts";
import { type Need, orderPacks } from "./orders.ts";
import { outturn } from "./outturn.ts";
import type { Problem } from "./problem.ts";
import { rawKey } from "./serve.ts";
import { loadCents, type Stowage } from "./stow.ts";
import { assignTanks, type TankBoard } from "./tanks.ts";
import type { VesselBoard } from "./vessels.ts";
import type { Weights } from "./weights.ts";

/** A plan without the lines that say which season and search it comes from. */
export type PlanBody = Omit<
  Plan,
  | "format"
  | "version"
  | "seasonId"
  | "seasonHash"
  | "revision"
  | "asOf"
  | "seed"
  | "iterations"
  | "program"
  | "stoppedEarly"
>;

/** Extract ordered on top of each need, so that whole grams never run short. */
const SPARE_EXTRACT_G = 12;

/** What settling needs beside the weights. */
export interface Settling {
  problem: Problem;
  evaluator: Evaluator;
  candidate: Candidate;
  evaluation: Evaluation;
  weights: Weights;
  stowage: Stowage;
  tanks: TankBoard;
  board: VesselBoard;
  refused: readonly Refusal[];
}

/** Turns weights into a plan in whole grams, packs and cents: the books are kept here as a clerk would. */
export function settle(settling: Settling): PlanBody {
  const { problem, candidate, evaluation, weights, stowage } = settling;
  const { season } = problem;

  const runs: PlanRun[] = [];
  const batches: CellarBatch[] = problem.batches.filter((batch) => batch.material >= 0).map((batch) => ({
    id: batch.id,
    material: batch.material,
    arrives: batch.arrivesDay,
    ready: batch.readyDay,
    last: batch.lastDay,
    massG: batch.massG,
    leftG: batch.massG,
    perG: batch.extractAsIs,
    home: batch.home,
  }));
  const named = runNames(problem, candidate);
  let runsCents = 0;
  let nightTurnsCents = 0;
  const extras = new Set<number>();
  candidate.runs.forEach((run, i) => {
    const made = outturn(problem, run, named[i] as string, stowage.taken.filter((one) => one.key === i));
    if (!made) return;
    runs.push(made.run);
    batches.push(...made.batches);
    const grain = problem.materials[run.slot.malt]?.made;
    if (!grain) return;
    if (made.run.standing !== "under way") {
      runsCents += grain.runCents + grain.perTonneCents * made.run.cleanG / 1e6;
    }
    nightTurnsCents += run.slot.nightCents;
    for (const extra of run.slot.extras) extras.add(extra);
  });

  const { orders, ordersCents } = placeOrders(settling, batches);
  const { brews, unbrewed, maltDeliveries, unsold, takings, salesCents } = fillBrews(settling, batches);
  const grain = grainMovements(problem, stowage);

  const goals = countGoals(problem, brews, maltDeliveries);
  const money = {
    runsCents: Math.round(runsCents),
    ordersCents,
    movesCents: Math.round(movesCents(problem, grain.moves)),
    nightTurnsCents,
    extraHoursCents: [...extras].reduce(
      (sum, extra) => sum + (season.roster.extra[extra]?.costCents ?? 0),
      0,
    ),
    feedCents: -grain.feedLoads.reduce((sum, load) => sum + load.revenueCents, 0),
    salesCents: Math.round(salesCents + grainSales(problem, grain.grainDeliveries)),
    endGrainCents: Math.round(endGrain(problem, stowage)),
    reserveCents: Math.round(reserveCents(problem, batches, takings)),
    changedRunsCents: 0,
  };
  return {
    runs,
    drums: [],
    brews,
    unbrewed,
    maltDeliveries,
    unsold,
    orders,
    ...grain,
    cannotKeep: [...settling.refused, ...problem.booked.refused],
    goals: { ...goals, moneyCents: Object.values(money).reduce((sum, part) => sum + part, 0), money },
  };

  function placeOrders(of: Settling, into: CellarBatch[]): { orders: Plan["orders"]; ordersCents: number } {
    const list: Plan["orders"] = [];
    let cents = 0;
    for (const order of problem.booked.orders) {
      const offer = season.supplyOffers.find((one) => one.id === order.offerId);
      if (!offer) continue;
      const costCents = order.packs * offer.packCents + offer.freightCents;
      cents += costCents;
      list.push({
        id: order.id,
        standing: "booked",
        offerId: offer.id,
        orderedOn: order.orderedOn,
        arrivesOn: order.arrivesOn,
        packs: order.packs,
        batchId: order.batchId,
        massG: order.packs * offer.packG,
        bestBefore: isoDate(dayNumber(order.arrivesOn) + offer.shelfLifeDays),
        costCents,
      });
    }
    for (const material of problem.materials) {
      const needs: Need[] = material.malt
        ? weights.purchases.filter((one) => one.material === material.index)
          .map((one) => ({ day: one.day, lastUse: one.lastUse, extractG: one.extractG + SPARE_EXTRACT_G }))
        : rawNeeds(of, material.index);
      if (needs.length === 0) continue;
      for (const one of orderPacks(problem, material.index, needs).orders) {
        const arrives = isoDate(one.arrives);
        const key = `${one.offer.id.slice(0, 26)}-${arrives}`;
        const id = uniqueId(`o-${key}`, list.map((other) => other.id));
        const batchId = `b${id.slice(1)}`;
        list.push({
          id,
          standing: "not booked",
          offerId: one.offer.id,
          orderedOn: isoDate(one.arrives - one.offer.leadDays),
          arrivesOn: arrives,
          packs: one.packs,
          batchId,
          massG: one.packs * one.offer.packG,
          bestBefore: isoDate(one.arrives + one.offer.shelfDays),
          costCents: one.costCents,
        });
        cents += one.costCents;
        into.push({
          id: batchId,
          material: material.index,
          arrives: one.arrives,
          ready: one.arrives,
          last: one.arrives + one.offer.shelfDays,
          massG: one.packs * one.offer.packG,
          leftG: one.packs * one.offer.packG,
          perG: one.offer.extract,
          home: false,
        });
      }
    }
    list.sort((a, b) =>
      a.orderedOn < b.orderedOn ? -1 : a.orderedOn > b.orderedOn ? 1 : a.id < b.id ? -1 : 1
    );
    return { orders: list, ordersCents: cents };
  }

  /** Raw grain that no lot gave, as weight of the offer's bags. */
  function rawNeeds(of: Settling, material: number): Need[] {
    const offer = problem.materials[material]?.offers[0];
    if (!offer) return [];
    return evaluation.deficits.filter((one) => one.material === material).map((one) => {
      const line = lineOf(of, one.line);
      return { day: one.day, lastUse: one.day, extractG: line.extractG / offer.extract + SPARE_EXTRACT_G };
    });
  }

  function lineOf(of: Settling, index: number) {
    const { table } = of.evaluator;
    const demand = problem.demands[table.demand[index] as number] as Problem["demands"][number];
    return demand.lines[index - (table.first[demand.index] as number)] as (typeof demand.lines)[number];
  }
}

function uniqueId(wanted: string, taken: readonly string[]): string {
  let id = wanted;
  for (let i = 2; taken.includes(id); i++) id = `${wanted}-${i}`;
  return id;
}

/** Ids of the runs: a record's or booking's own, else the steep-in day, numbered when several start on it. */
function runNames(problem: Problem, candidate: Candidate): string[] {
  const known = new Set([
    ...problem.season.records.runs.map((run) => run.id),
    ...problem.season.bookings.runs.map((run) => run.id),
  ]);
  const names: string[] = [];
  for (const run of candidate.runs) {
    if (run.fixed) names.push(run.fixed.id);
    else names.push(uniqueId(`run-${isoDate(run.slot.steepDay)}`, [...known, ...names]));
  }
  return names;
}

type Filled = Pick<Plan, "brews" | "unbrewed" | "maltDeliveries" | "unsold"> & {
  takings: Taking[];
  salesCents: number;
};

/** Gives every made brew its grist, in order of brew day, and names a first cause for the others. */
function fillBrews(settling: Settling, batches: readonly CellarBatch[]): Filled {
  const { problem, evaluator, candidate, evaluation, weights, tanks } = settling;
  const { season } = problem;
  const { table } = evaluator;
  const cellar = new Cellar(problem, batches);
  const filled: Filled = {
    brews: [],
    unbrewed: [],
    maltDeliveries: [],
    unsold: [],
    takings: [],
    salesCents: 0,
  };
  const lacks = new Map<number, Lack>();
  const met: { demand: number; grist: PlanBrew["grist"]; homeG: number; totalG: number }[] = [];

  for (const index of evaluation.order) {
    if (evaluation.status[index] === 0) continue;
    const demand = problem.demands[index] as Problem["demands"][number];
    const on = candidate.day[index] as number;
    const all: Drawn[] = [];
    const grist: PlanBrew["grist"] = [];
    let homeG = 0;
    let totalG = 0;
    let lack: Lack | null = null;
    demand.lines.forEach((line, l) => {
      if (lack) return;
      const at = (table.first[index] as number) + l;
      const material = problem.materials[line.material] as Problem["materials"][number];
      const note = (drawn: readonly Drawn[]) => {
        for (const one of drawn) {
          all.push(one);
          grist.push({
            lineId: line.lineId,
            from: { kind: "batch", batchId: one.batch.id },
            massG: one.massG,
          });
          totalG += one.massG;
          if (one.batch.home) homeG += one.massG;
        }
      };
      if (material.malt === null) {
        const taken = settling.stowage.taken.filter((one) => one.key === rawKey(at));
        if (taken.length > 0) {
          for (const one of taken) {
            const lot = problem.lots[one.lot];
            grist.push({
              lineId: line.lineId,
              from: { kind: "lot", lotId: lot?.id ?? "", storeId: problem.stores[one.store]?.id ?? "" },
              massG: one.massG,
            });
            totalG += one.massG;
            if (lot?.home) homeG += one.massG;
          }
          return;
        }
        const bag = cellar.take(material, false, line.extractG, on);
        note(bag.drawn);
        if (bag.missingG > 0) lack = { material: material.index, day: on };
        return;
      }
      let open = line.extractG;
      for (const one of weights.substituted.filter((other) => other.line === at)) {
        const part = cellar.take(
          problem.materials[one.material] as typeof material,
          one.home,
          Math.min(open, one.extractG),
          on,
        );
        note(part.drawn);
        open -= part.drawn.reduce((sum, each) => sum + each.massG * each.batch.perG, 0);
      }
      const wantHome = Math.min(open, weights.home[at] as number);
      // Home malt as the weights say, then bought malt, then whatever home malt is left.
      for (const [home, extractG] of [[true, wantHome], [false, Infinity], [true, Infinity]] as const) {
        const part = cellar.take(material, home, Math.min(open, extractG), on);
        note(part.drawn);
        open -= part.drawn.reduce((sum, each) => sum + each.massG * each.batch.perG, 0);
        if (open < 0.51) break;
      }
      if (open >= 0.51 && open > 0.5 * material.extract) lack = { material: material.index, day: on };
    });
    if (lack) {
      cellar.giveBack(all);
      lacks.set(index, lack);
      continue;
    }
    for (const one of all) filled.takings.push({ batch: one.batch, day: on, massG: one.massG });
    met.push({ demand: index, grist: merged(grist), homeG, totalG });
  }

  const dated = met.filter((one) => problem.demands[one.demand]?.kind === "brew")
    .map((one) => ({ demand: one.demand, day: candidate.day[one.demand] as number }));
  const assigned = assignTanks(problem, tanks, dated);
  for (const one of met) {
    const demand = problem.demands[one.demand] as Problem["demands"][number];
    const on = isoDate(candidate.day[one.demand] as number);
    if (demand.kind === "sale") {
      filled.maltDeliveries.push({
        contractId: demand.id,
        on,
        from: one.grist.map((use) => ({
          batchId: use.from.kind === "batch" ? use.from.batchId : "",
          massG: use.massG,
        })),
      });
      const contract = season.contracts.find((other) => other.id === demand.id);
      filled.salesCents -= (contract?.perTonneCents ?? 0) * one.totalG / 1e6;
      continue;
    }
    const homeShare = one.totalG > 0 ? one.homeG / one.totalG : 0;
    filled.brews.push({
      id: demand.id,
      beerId: demand.beerId,
      standing: demand.booked ? "booked" : "not booked",
      on,
      tanks: (assigned.tanks.get(one.demand) ?? []).map(({ tank, volumeL }) => ({
        tankId: tanks.ids[tank] ?? "",
        volumeL,
      })),
      grist: one.grist,
      homeShare: Math.floor(homeShare * 1e6 + 1e-6) / 1e6,
      promiseHeld: homeShare + 1e-9 >= demand.promise,
    });
  }
  for (const demand of problem.demands) {
    if (met.some((one) => one.demand === demand.index)) continue;
    const { cause, why } = causeOf(settling, demand, lacks.get(demand.index) ?? null);
    if (demand.kind === "sale") filled.unsold.push({ contractId: demand.id, cause, why });
    else filled.unbrewed.push({ id: demand.id, beerId: demand.beerId, cause, why });
  }
  return filled;
}

/** One entry for each line and source. */
function merged(grist: PlanBrew["grist"]): PlanBrew["grist"] {
  const list: PlanBrew["grist"] = [];
  for (const use of grist) {
    const same = list.find((one) =>
      one.lineId === use.lineId && one.from.kind === "batch" && use.from.kind === "batch" &&
      one.from.batchId === use.from.batchId
    );
    if (same) same.massG += use.massG;
    else list.push({ ...use });
  }
  return list;
}

type Grain = Pick<Plan, "fills" | "leftOut" | "moves" | "feedLoads" | "seedTaken" | "grainDeliveries">;

function grainMovements(problem: Problem, stowage: Stowage): Grain {
  const lotId = (lot: number) => problem.lots[lot]?.id ?? "";
  const storeId = (store: number) => problem.stores[store]?.id ?? "";
  const seedTaken: Plan["seedTaken"] = [];
  const grainDeliveries: Plan["grainDeliveries"] = [];
  for (const lot of problem.lots) {
    lot.firm.forEach((firm, i) => {
      for (const one of stowage.taken.filter((taken) => taken.key === firmKey(lot.index, i))) {
        const at = { on: isoDate(firm.day), lotId: lot.id, storeId: storeId(one.store), massG: one.massG };
        if (firm.kind === "seed") seedTaken.push({ reserveId: firm.id, ...at });
        else grainDeliveries.push({ contractId: firm.id, ...at });
      }
    });
  }
  return {
    fills: stowage.fills.map((one) => ({
      on: isoDate(one.day),
      lotId: lotId(one.lot),
      storeId: storeId(one.store),
      massG: one.massG,
    })),
    leftOut: stowage.leftOut.map((one) => ({
      lotId: lotId(one.lot),
      on: isoDate(one.day),
      massG: one.massG,
    })),
    moves: [
      ...problem.booked.moves.map(({ by: _by, note: _note, ...move }) => ({
        ...move,
        standing: "booked" as const,
      })),
      ...stowage.moves.map((one, i) => ({
        id: `move-${isoDate(one.day)}-${i + 1}`,
        standing: "not booked" as const,
        on: isoDate(one.day),
        lotId: lotId(one.lot),
        fromStoreId: storeId(one.from),
        toStoreId: storeId(one.to),
        massG: one.massG,
        lossG: one.lossG,
      })),
    ],
    feedLoads: [
      ...problem.booked.loads.map(({ by: _by, note: _note, ...load }) => {
        const pickup = problem.pickups.find((one) => one.id === load.pickupId);
        const massG = load.items.reduce((sum, item) => sum + item.massG, 0);
        return {
          ...load,
          standing: "booked" as const,
          revenueCents: pickup ? Math.round(pickup.perTonneCents * massG / 1e6) - pickup.haulageCents : 0,
        };
      }),
      ...stowage.loads.map((load, i) => ({
        id: `load-${isoDate(load.day)}-${i + 1}`,
        standing: "not booked" as const,
        pickupId: problem.pickups[load.pickup]?.id ?? "",
        on: isoDate(load.day),
        items: load.items.map((item) => ({
          lotId: lotId(item.lot),
          storeId: storeId(item.store),
          massG: item.massG,
        })),
        revenueCents: loadCents(problem, load),
      })),
    ],
    seedTaken,
    grainDeliveries,
  };
}

function movesCents(problem: Problem, moves: Plan["moves"]): number {
  const { costs } = problem.season;
  return moves.reduce((sum, move) => sum + costs.moveCents + costs.movePerTonneCents * move.massG / 1e6, 0);
}

function grainSales(problem: Problem, deliveries: Plan["grainDeliveries"]): number {
  return -deliveries.reduce((sum, one) => {
    const contract = problem.season.contracts.find((other) => other.id === one.contractId);
    return sum + (contract?.perTonneCents ?? 0) * one.massG / 1e6;
  }, 0);
}

function endGrain(problem: Problem, stowage: Stowage): number {
  let cents = 0;
  for (const [lot, massG] of stowage.end) {
    cents -= (problem.lots[lot]?.endCentsPerG ?? 0) * Math.max(0, massG);
  }
  return cents;
}

function countGoals(problem: Problem, brews: Plan["brews"], deliveries: Plan["maltDeliveries"]) {
  const made: [number, number, number] = [0, 0, 0];
  const asked: [number, number, number] = [0, 0, 0];
  let promisesHeld = 0;
  let tailMade = 0;
  const done = new Map(brews.map((brew) => [brew.id, brew]));
  const sold = new Set(deliveries.map((one) => one.contractId));
  for (const demand of problem.demands) {
    const brew = done.get(demand.id);
    const is = demand.kind === "brew" ? brew !== undefined : sold.has(demand.id);
    if (demand.class === 4) {
      if (is) tailMade++;
      continue;
    }
    const at = (demand.class - 1) as 0 | 1 | 2;
    asked[at]++;
    if (!is) continue;
    made[at]++;
    if (brew?.promiseHeld) promisesHeld++;
  }
  return { made, asked, promisesHeld, tailMade };
}

/** The wants of a candidate with exact weights, for the last stowing. */
export function exactWants(problem: Problem, candidate: Candidate, weights: Weights, evaluation: Evaluation) {
  return wantsOf(
    problem,
    candidate.runs,
    { drawG: weights.drawG, draw2G: weights.draw2G },
    evaluation.rawWants,
  );
}
