import { dayNumber } from "../calendar.ts";
import type { Lot, Store } from "../season/grain.ts";
import type { Journal } from "./journal.ts";
import { placesFor } from "./store-room.ts";
import type { LotStay, MustLeave, StoreEvent, StoreRow } from "./stores-band.ts";
import { doubtfulDay, storeWords, tonneWords } from "./words.ts";

/**
 * Feed loads and moves still to come without which another lot could not come in. In a bin these are the loads and moves
 * that bring the lot before the next one to zero; in a bag row the largest of those whose places the next arrival needs.
 */
export function mustLeaveOf(
  journal: Journal,
  store: Store,
  row: StoreRow,
  rows: readonly StoreRow[],
  lots: ReadonlyMap<string, Lot>,
): MustLeave[] {
  const leaving = row.departures.filter((one) =>
    one.day >= journal.asOfDay && one.standing !== "done" && (one.kind === "feed" || one.kind === "moved out")
  );
  if (store.kind === "bags") {
    return neededPlaces(journal, store, row, leaving, lots).map(([event, next]) =>
      note(journal, row, rows, event, next, 0, lots)
    );
  }
  return leaving.flatMap((event) => {
    const next = nextLot(row, event);
    return next === undefined ? [] : [note(journal, row, rows, event, next, store.turnaroundDays, lots)];
  });
}

/** The next other lot of a bin, if this departure is the one that empties it. */
function nextLot(row: StoreRow, event: StoreEvent): LotStay | undefined {
  const empties = row.stays.some((stay) => stay.lotId === event.lotId && stay.to === event.day - 1);
  if (!empties) return undefined;
  return row.stays.find((stay) => stay.from > event.day && stay.lotId !== event.lotId);
}

/**
 * Departures whose bag places the next arrivals need. All that left before an arrival is thought back into the row; the
 * largest then have to go, one after the other, until the arrival fits.
 */
function neededPlaces(
  journal: Journal,
  store: Store & { kind: "bags" },
  row: StoreRow,
  leaving: readonly StoreEvent[],
  lots: ReadonlyMap<string, Lot>,
): [StoreEvent, LotStay][] {
  const places = (event: StoreEvent) => {
    const lot = lots.get(event.lotId);
    return lot === undefined ? 0 : placesFor(store, lot.testWeightKgPerHl, event.massG);
  };
  const needed = new Map<StoreEvent, LotStay>();
  for (const next of row.stays) {
    const before = leaving.filter((event) => event.day <= next.from && event.lotId !== next.lotId)
      .toSorted((a, b) => places(b) - places(a));
    const used = row.placesUsed?.[next.from - journal.firstDay] ?? 0;
    let over = used + before.reduce((sum, event) => sum + places(event), 0) - store.places;
    for (const event of before) {
      if (over <= 0) break;
      over -= places(event);
      if (!needed.has(event)) needed.set(event, next);
    }
  }
  return [...needed];
}

function note(
  journal: Journal,
  row: StoreRow,
  rows: readonly StoreRow[],
  event: StoreEvent,
  next: LotStay,
  turnaroundDays: number,
  lots: ReadonlyMap<string, Lot>,
): MustLeave {
  const { season } = journal;
  const clearBy = next.from - turnaroundDays;
  const load = journal.feedLoads.find((one) => one.id === event.refId);
  const pickup = season.feedPickups.find((one) => one.id === load?.pickupId);
  const offerEnds = event.kind === "feed" && pickup !== undefined ? dayNumber(pickup.to) : Infinity;
  const byDay = Math.max(event.day, Math.min(clearBy, offerEnds));
  const kind = event.kind === "feed" ? "feed" : "move";
  const toStore = rows.find((one) => one.id === event.otherStoreId);
  const nextForecast = lots.get(next.lotId)?.forecast ?? false;
  const forecast = byDay === clearBy && nextForecast;
  const nextMassG = comesIn(row, next);
  const by = `by ${doubtfulDay(byDay, forecast)}`;
  return {
    kind,
    refId: event.refId,
    node: event.node,
    storeId: row.id,
    storeName: row.name,
    toStoreId: event.otherStoreId,
    toStoreName: toStore?.name ?? null,
    lotId: event.lotId,
    letter: event.letter,
    massG: event.massG,
    onDay: event.day,
    byDay,
    forecast,
    standing: event.standing,
    nextLotId: next.lotId,
    nextLetter: next.letter,
    nextDay: next.from,
    nextForecast,
    nextMassG,
    words: {
      by,
      go: `${tonneWords(event.massG)} must leave ${storeWords(row.name)} ${by}`,
      where: kind === "feed" ? "to feed" : `over to ${storeWords(toStore?.name ?? "another store")}`,
      comes: `${next.letter} ${tonneWords(nextMassG)} comes ${doubtfulDay(next.from, nextForecast)}`,
    },
  };
}

/** What enters a store of a lot on its first day there. */
function comesIn({ arrivals }: StoreRow, { lotId, from, levelsG }: LotStay): number {
  const came = arrivals.filter((one) => one.lotId === lotId && one.day === from)
    .reduce((sum, one) => sum + one.massG, 0);
  return came > 0 ? came : levelsG[0] ?? 0;
}
