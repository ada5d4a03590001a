import { isoDate } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import { firmKey } from "./wants.ts";
import type { Problem } from "./problem.ts";
import { loadCents } from "./feed-loads.ts";
import { uniqueId } from "./settling.ts";
import type { Stowage } from "./stow-walk.ts";

/** Everything the plan says about grain in stores. */
export type Grain = Pick<Plan, "fills" | "leftOut" | "moves" | "feedLoads" | "seedTaken" | "grainDeliveries">;

/** Writes a stowage down as plan lines, booked ones first. */
export function grainMovements(problem: Problem, stowage: Stowage): Grain {
  const lotId = (lot: number) => problem.lots[lot]?.id ?? "";
  const storeId = (store: number) => problem.stores[store]?.id ?? "";
  const { bookings, records } = problem.season;
  const ids = [...bookings.moves, ...bookings.feedLoads, ...records.moves, ...records.feedLoads]
    .map((one) => one.id);
  const named = (wanted: string) => {
    const id = uniqueId(wanted, ids);
    ids.push(id);
    return id;
  };
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
        id: named(`move-${isoDate(one.day)}-${i + 1}`),
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
        id: named(`load-${isoDate(load.day)}-${i + 1}`),
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

/** What moves cost, cents, unrounded. */
export function movesCents(problem: Problem, moves: Plan["moves"]): number {
  const { costs } = problem.season;
  return moves.reduce((sum, move) => sum + costs.moveCents + costs.movePerTonneCents * move.massG / 1e6, 0);
}

/** What grain contracts bring, as negative cents, unrounded. */
export function grainSales(problem: Problem, deliveries: Plan["grainDeliveries"]): number {
  return -deliveries.reduce((sum, one) => {
    const contract = problem.season.contracts.find((other) => other.id === one.contractId);
    return sum + (contract?.perTonneCents ?? 0) * one.massG / 1e6;
  }, 0);
}

/** Worth of grain still fit for malting at the end, as negative cents, unrounded. */
export function endGrain(problem: Problem, stowage: Stowage): number {
  let cents = 0;
  for (const [lot, massG] of stowage.end) {
    cents -= (problem.lots[lot]?.endCentsPerG ?? 0) * Math.max(0, massG);
  }
  return cents;
}
