import type { Plan } from "../plan/plan.ts";
import type { CellarBatch } from "./cellar.ts";
import { fillBrews } from "./fill-brews.ts";
import { placesOver, placesTaken, reserveCents } from "./money.ts";
import type { OrderLimits, PlannedOrder } from "./orders.ts";
import { countedOrders, placeOrders, plannedOrders } from "./place-orders.ts";
import type { Material } from "./problem.ts";
import type { Settling } from "./settling.ts";
import type { StoreRoom } from "./store-room.ts";

/** Most days of need in one order, tried in turn until the malt store holds what comes. */
const SPANS = [Infinity, 60, 25, 10, 3, 0] as const;

/** Orders of each material, and grists filled from what they bring. */
interface Ordered {
  planned: readonly (readonly PlannedOrder[])[];
  orders: Plan["orders"];
  ordersCents: number;
  batches: readonly CellarBatch[];
  filled: ReturnType<typeof fillBrews>;
  over: ReturnType<typeof placesOver>;
}

/**
 * Orders and grists with the largest orders the malt store has room for; the least overfull when none fits. The same days of need
 * for all materials give a first answer; then each material's orders are planned anew in the room that all others leave.
 */
export function ordersThatFit(settling: Settling, made: readonly CellarBatch[]): Ordered {
  const { materials } = settling.problem;
  let best: Ordered | null = null;
  let spanDays: number = Infinity;
  for (spanDays of SPANS) {
    const next = attempt(
      settling,
      made,
      materials.map((one) => plannedOrders(settling, one, { spanDays }) ?? []),
    );
    if (!best || next.over.placeDays < best.over.placeDays) best = next;
    if (best.over.placeDays === 0) break;
  }
  const first = best as Ordered;
  // What found no place before is not asked for once more, in other orders.
  if (spanDays === Infinity || first.over.placeDays > 0 || settling.noRoomFor.size > 0) return first;
  return materials.reduce((last, one) => withFewer(settling, made, last, one), first);
}

/** With the material's orders planned anew in the room that is left, where they cost less and take nothing from the rest. */
function withFewer(
  settling: Settling,
  made: readonly CellarBatch[],
  last: Ordered,
  material: Material,
): Ordered {
  const before = last.planned[material.index] ?? [];
  if (before.length < 2 || countedOrders(settling, material)) return last;
  const limits: OrderLimits = { room: roomBeside(settling, last, material) };
  const fewer = plannedOrders(settling, material, limits);
  if (!fewer || centsOf(fewer) >= centsOf(before)) return last;
  const next = attempt(
    settling,
    made,
    last.planned.map((orders, index) => index === material.index ? fewer : orders),
  );
  const isSound = next.over.placeDays === 0 && doesAllOf(last, next);
  return isSound && costCents(settling, next) < costCents(settling, last) ? next : last;
}

function centsOf(orders: readonly PlannedOrder[]): number {
  return orders.reduce((sum, one) => sum + one.costCents, 0);
}

/** Orders, and what malt they leave in reserve. */
function costCents({ problem }: Settling, { ordersCents, batches, filled }: Ordered): number {
  return ordersCents + reserveCents(problem, batches, filled.takings);
}

/** Whether all that was made, kept and delivered still is. */
function doesAllOf({ filled: last }: Ordered, { filled: next }: Ordered): boolean {
  const made = new Map(next.brews.map((brew) => [brew.id, brew.promiseHeld]));
  const sold = new Set(next.maltDeliveries.map((one) => one.contractId));
  return last.brews.every(({ id, promiseHeld }) => made.has(id) && (made.get(id) || !promiseHeld)) &&
    last.maltDeliveries.every((one) => sold.has(one.contractId));
}

/** Places that nothing but the orders planned of this material takes. */
function roomBeside({ problem }: Settling, { batches, filled }: Ordered, material: Material): StoreRoom {
  const others = batches.filter((one) =>
    one.material !== material.index || one.settled || !one.key.startsWith("offer ")
  );
  const { used, allowed } = placesTaken(problem, others, filled.takings);
  return {
    from: problem.asOfDay,
    free: used.map((places) => allowed - places),
    placeG: problem.season.maltStore.placeG,
  };
}

function attempt(
  settling: Settling,
  made: readonly CellarBatch[],
  planned: readonly (readonly PlannedOrder[])[],
): Ordered {
  const { orders, ordersCents, batches: bought } = placeOrders(settling, planned);
  const batches = [...made.map((batch) => ({ ...batch })), ...bought];
  const filled = fillBrews(settling, batches);
  const over = placesOver(settling.problem, batches, filled.takings);
  return { planned, orders, ordersCents, filled, batches, over };
}
