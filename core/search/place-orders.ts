import { dayNumber, isoDate } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { CellarBatch } from "./cellar.ts";
import { type Need, orderPacks, SPARE_EXTRACT_G } from "./orders.ts";
import type { Line, Offer } from "./problem.ts";
import { type Settling, uniqueId } from "./settling.ts";
import { keyOf } from "./weigh-sources.ts";

/** Booked orders and those the weights ask for, in whole packs, none covering more than `spanDays`; with their batches. */
export function placeOrders(
  of: Settling,
  spanDays: number,
): { orders: Plan["orders"]; ordersCents: number; batches: CellarBatch[] } {
  const { problem, weights } = of;
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
    const needs: Need[] = material.malt
      ? weights.purchases.filter((one) => one.material === material.index)
        .map((one) => ({ day: one.day, extractG: one.extractG + SPARE_EXTRACT_G }))
      : rawNeeds(of, material.index);
    // Exact weights order malt alone, a count raw grain too.
    const isCounted = material.malt ||
      weights.orders?.some((one) => problem.offers[one.offer]?.material === material.index);
    const counted = isCounted ? weights.orders : null;
    const planned = counted
      ? counted.filter((one) => problem.offers[one.offer]?.material === material.index).map((one) => {
        const offer = problem.offers[one.offer] as Offer;
        return {
          offer,
          arrives: one.day,
          packs: one.packs,
          costCents: one.packs * offer.packCents + offer.freightCents,
        };
      })
      : orderPacks(problem, material.index, needs, spanDays).orders;
    for (const one of planned) {
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
