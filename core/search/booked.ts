import { dateOf, dayNumber, weekday } from "../calendar.ts";
import { type Book, type BookBatch, orderedBatch } from "../book/book.ts";
import type { FeedLoad, Move, Order } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import { GrainLedger } from "./grain-ledger.ts";
import type { Change } from "./piles.ts";
import type { Refusal } from "./fixed.ts";

/** Booked orders, loads and moves that can be kept, what they change, and those that cannot. */
export interface Booked {
  orders: Order[];
  batches: BookBatch[];
  loads: FeedLoad[];
  moves: Move[];
  changes: Change[];
  /** Grain in store that they leave, for booked runs. */
  ledger: GrainLedger;
  refused: Refusal[];
}

/** Sorts the bookings out. A booking whose record exists is a fact already and is left out. */
export function bookedOf(season: Season, book: Book): Booked {
  const ledger = new GrainLedger(book.grain, book.asOfDay);
  const booked: Booked = { orders: [], batches: [], loads: [], moves: [], changes: [], ledger, refused: [] };
  const today = dateOf(book.asOf);
  const recorded = new Set([
    ...season.records.orders.map((one) => one.id),
    ...season.records.feedLoads.map((one) => one.id),
    ...season.records.moves.map((one) => one.id),
  ]);
  for (const order of season.bookings.orders) {
    if (recorded.has(order.id)) continue;
    const offer = season.supplyOffers.find((one) => one.id === order.offerId);
    if (!offer || order.orderedOn < today) {
      booked.refused.push({
        kind: "order",
        id: order.id,
        why: "its order day is past and nobody wrote that it was placed",
      });
      continue;
    }
    const ordered = dayNumber(order.orderedOn);
    const arrives = ordered + offer.leadDays;
    const legal = offer.orderWeekdays.includes(weekday(ordered)) && order.orderedOn >= offer.from &&
      order.orderedOn <= offer.to && order.packs >= offer.leastPacks &&
      dayNumber(order.arrivesOn) === arrives;
    if (!legal) {
      booked.refused.push({
        kind: "order",
        id: order.id,
        why: "the offer does not stand on that day, is for more packs, or comes on another day",
      });
      continue;
    }
    booked.orders.push(order);
    booked.batches.push(orderedBatch(offer, order));
  }
  const index = (lotId: string, storeId: string) => ({
    lot: season.lots.findIndex((lot) => lot.id === lotId),
    store: season.stores.findIndex((store) => store.id === storeId),
  });
  const onDay = (a: { on: string }, b: { on: string }) => dayNumber(a.on) - dayNumber(b.on);
  for (const move of [...season.bookings.moves].sort(onDay)) {
    if (recorded.has(move.id)) continue;
    const day = dayNumber(move.on);
    if (move.on < today || !ledger.take(move.lotId, move.fromStoreId, day, move.massG)) {
      booked.refused.push({ kind: "move", id: move.id, why: "the grain is not there, or the day is past" });
      continue;
    }
    ledger.put(move.lotId, move.toStoreId, day, move.massG - move.lossG);
    booked.moves.push(move);
    booked.changes.push({
      day,
      kind: "move",
      ...index(move.lotId, move.fromStoreId),
      toStore: index(move.lotId, move.toStoreId).store,
      massG: move.massG,
      lossG: move.lossG,
    });
  }
  for (const load of [...season.bookings.feedLoads].sort(onDay)) {
    if (recorded.has(load.id)) continue;
    const day = dayNumber(load.on);
    const taken = ledger.clone();
    if (load.on < today || !load.items.every((one) => taken.take(one.lotId, one.storeId, day, one.massG))) {
      booked.refused.push({
        kind: "feed load",
        id: load.id,
        why: "the grain is not there, or the day is past",
      });
      continue;
    }
    booked.loads.push(load);
    for (const item of load.items) {
      ledger.take(item.lotId, item.storeId, day, item.massG);
      booked.changes.push({
        day,
        kind: "load",
        ...index(item.lotId, item.storeId),
        toStore: -1,
        massG: item.massG,
        lossG: 0,
      });
    }
  }
  return booked;
}
