import { dayNumber, isoDate } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { CellarBatch } from "./cellar.ts";
import { type Need, type OrderLimits, orderPacks, type PlannedOrder, SPARE_EXTRACT_G } from "./orders.ts";
import type { Line, Material, Offer } from "./problem.ts";
import { type Settling, uniqueId } from "./settling.ts";
import { keyOf } from "./weigh-sources.ts";
import type { Weights } from "./weights.ts";

/**
 * The orders that the weights ask for, in whole packs, by material: as they were counted, or else those that cost least within `limits`. Null where a
 * material's needs do not fit them.
 */
export function plannedOrders(
  of: Settling,
  material: Material,
  limits: OrderLimits,
): PlannedOrder[] | null {
  const { problem, weights } = of;
  const counted = countedOrders(of, material);
  if (counted) {
    return counted.map(({ offer: index, day, packs }) => {
      const offer = problem.offers[index] as Offer;
      return { offer, arrives: day, packs, costCents: packs * offer.packCents + offer.freightCents };
    });
  }
  const needs: Need[] = material.malt
    ? weights.purchases.filter((one) => one.material === material.index)
      .map((one) => ({ day: one.day, extractG: one.extractG + SPARE_EXTRACT_G }))
    : rawNeeds(of, material.index);
  const byDay = [...Map.groupBy(needs, (need) => need.day)].map(([day, ofDay]): Need => ({
    day,
    extractG: ofDay.reduce((sum, need) => sum + need.extractG, 0),
  }));
  const { orders, uncovered } = orderPacks(problem, material.index, byDay, limits);
  return limits.room && orders.length === 0 && uncovered.length > 0 ? null : orders;
}

/** The orders of a material where weights come with orders; null where they are to be planned. */
export function countedOrders(of: Settling, material: Material): Exclude<Weights["orders"], null> | null {
  const orders = of.weights.orders?.filter((one) =>
    of.problem.offers[one.offer]?.material === material.index
  );
  // Exact weights order malt alone, a count raw grain too.
  return orders && (material.malt || orders.length > 0) ? orders : null;
}

/** Booked orders and those `planned` by material, with their batches. */
export function placeOrders(
  of: Settling,
  planned: readonly (readonly PlannedOrder[])[],
): { orders: Plan["orders"]; ordersCents: number; batches: CellarBatch[] } {
  const { problem } = of;
  const list: Plan["orders"] = [];
  const batches: CellarBatch[] = [];
  let cents = 0;
  for (const order of problem.booked.orders) {
    const offer = problem.season.supplyOffers.find((one) => one.id === order.offerId);
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
    for (const one of planned[material.index] ?? []) {
      const arrives = isoDate(one.arrives);
      const id = uniqueId(
        `o-${one.offer.id.slice(0, 26)}-${arrives}`,
        [...list, ...problem.season.bookings.orders, ...problem.season.records.orders].map((other) =>
          other.id
        ),
      );
      const batchId = `b${id.slice(1)}`;
      if (of.noRoomFor.has(batchId)) continue;
      const massG = one.packs * one.offer.packG;
      cents += one.costCents;
      list.push({
        id,
        standing: "not booked",
        offerId: one.offer.id,
        orderedOn: isoDate(one.arrives - one.offer.leadDays),
        arrivesOn: arrives,
        packs: one.packs,
        batchId,
        massG,
        bestBefore: isoDate(one.arrives + one.offer.shelfDays),
        costCents: one.costCents,
      });
      batches.push({
        id: batchId,
        key: keyOf({
          batchId: null,
          run: -1,
          material: material.index,
          offer: one.offer.index,
          ready: one.arrives,
        }),
        material: material.index,
        arrives: one.arrives,
        ready: one.arrives,
        last: one.arrives + one.offer.shelfDays,
        massG,
        leftG: massG,
        carryG: 0,
        perG: one.offer.extract,
        home: false,
        share: null,
        settled: false,
      });
    }
  }
  list.sort((a, b) => a.orderedOn < b.orderedOn ? -1 : a.orderedOn > b.orderedOn ? 1 : a.id < b.id ? -1 : 1);
  return { orders: list, ordersCents: cents, batches };
}

/** Raw grain that neither a lot nor a held bag gives the brews that are made. The search counted it by weight. */
function rawNeeds(of: Settling, material: number): Need[] {
  const { table } = of.evaluator;
  return of.evaluation.deficits.filter((one) =>
    one.material === material && of.weights.status[table.demand[one.line] as number] !== 0
  ).map((one) => ({
    day: one.day,
    extractG: lineOf(of, one.line).extractG * one.extractG / lineOf(of, one.line).bookMassG +
      SPARE_EXTRACT_G,
  }));
}

function lineOf(of: Settling, index: number): Line {
  const { table } = of.evaluator;
  const demand = table.demand[index] as number;
  return of.problem.demands[demand]?.lines[index - (table.first[demand] as number)] as Line;
}
