import { dateOf, dayNumber, weekday } from "../calendar.ts";
import type { Book, BookBatch } from "../book/book.ts";
import type { FeedLoad, Move, Order } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import type { Change } from "./piles.ts";
import type { Refusal } from "./fixed.ts";

/** Booked orders, loads and moves that can be kept, what they change, and those that cannot. */
export interface Booked {
  orders: Order[];
  batches: BookBatch[];
  loads: FeedLoad[];
  moves: Move[];
  changes: Change[];
  refused: Refusal[];
}

/** Sorts the bookings out. A booking whose record exists is a fact already and is left out. */
export function bookedOf(season: Season, book: Book): Booked {
  const booked: Booked = { orders: [], batches: [], loads: [], moves: [], changes: [], refused: [] };
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
    booked.batches.push({
      id: order.batchId,
      maltId: offer.ingredient.kind === "malt" ? offer.ingredient.maltId : null,
      crop: offer.ingredient.kind === "grain" ? offer.ingredient.crop : null,
      massG: order.packs * offer.packG,
      home: false,
      lotIds: [],
      arrivesDay: arrives,
      readyDay: arrives,
      lastDay: arrives + offer.shelfLifeDays,
      extractAsIs: offer.extractAsIs,
    });
  }
  const left = new Map([...book.grain].map(([lot, stores]) => [lot, new Map(stores)]));
  const index = (lotId: string, storeId: string) => ({
    lot: season.lots.findIndex((lot) => lot.id === lotId),
    store: season.stores.findIndex((store) => store.id === storeId),
  });
  const takes = (lotId: string, storeId: string, massG: number) => {
    const stores = left.get(lotId);
    const had = stores?.get(storeId) ?? 0;
    if (had < massG) return false;
    stores?.set(storeId, had - massG);
    return true;
  };
  for (const move of season.bookings.moves) {
    if (recorded.has(move.id)) continue;
    if (move.on < today || !takes(move.lotId, move.fromStoreId, move.massG)) {
      booked.refused.push({ kind: "move", id: move.id, why: "the grain is not there, or the day is past" });
      continue;
    }
    booked.moves.push(move);
    booked.changes.push({
      day: dayNumber(move.on),
      kind: "move",
      ...index(move.lotId, move.fromStoreId),
      toStore: index(move.lotId, move.toStoreId).store,
      massG: move.massG,
      lossG: move.lossG,
    });
  }
  for (const load of season.bookings.feedLoads) {
    if (recorded.has(load.id)) continue;
    if (load.on < today || !load.items.every((item) => takes(item.lotId, item.storeId, item.massG))) {
      booked.refused.push({
        kind: "feed load",
        id: load.id,
        why: "the grain is not there, or the day is past",
      });
      continue;
    }
    booked.loads.push(load);
    for (const item of load.items) {
      booked.changes.push({
        day: dayNumber(load.on),
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
