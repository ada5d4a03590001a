import { dayNumber } from "../calendar.ts";
import type { Lot, Store } from "../season/grain.ts";
import type { Journal } from "./journal.ts";
import { placesFor } from "./store-room.ts";
import { dayWords, lowerFirst, weightWords } from "./words.ts";
import type { LotStay, MustLeave, StoreEvent, StoreRow } from "./year.ts";

/**
 * Feed loads and moves still to come without which another lot could not come in. In a bin these are the loads and moves
 * that bring the lot before the next one to zero; in a bag row those whose places the next arrivals need.
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
  return leaving.flatMap((event) => {
    const next = store.kind === "bin"
      ? nextLot(row, event)
      : nextPlaces(journal, store, row, event, lots.get(event.lotId));
    if (next === undefined) return [];
    const turnaround = store.kind === "bin" ? store.turnaroundDays : 0;
    return [note(journal, row, rows, event, next, turnaround, lots)];
  });
}

/** The next other lot of a bin, if this departure is the one that empties it. */
function nextLot(row: StoreRow, event: StoreEvent): LotStay | undefined {
  const empties = row.stays.some((stay) => stay.lotId === event.lotId && stay.to === event.day - 1);
  if (!empties) return undefined;
  return row.stays.find((stay) => stay.from > event.day && stay.lotId !== event.lotId);
}

/** The next other lot of a bag row that would not find its places if this grain had stayed. */
function nextPlaces(
  journal: Journal,
  store: Store & { kind: "bags" },
  row: StoreRow,
  event: StoreEvent,
  lot: Lot | undefined,
): LotStay | undefined {
  if (lot === undefined) return undefined;
  const kept = placesFor(store, lot.testWeightKgPerHl, event.massG);
  return row.stays.find((stay) =>
    stay.from >= event.day && stay.lotId !== event.lotId &&
    (row.placesUsed?.[stay.from - journal.firstDay] ?? 0) + kept > store.places
  );
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
  const crop = lots.get(event.lotId)?.crop;
  const kind = event.kind === "feed" ? "feed" : "move";
  const toStore = rows.find((one) => one.id === event.otherStoreId);
  const where = kind === "feed" ? "out to feed" : `over to ${lowerFirst(toStore?.name ?? "another store")}`;
  const forecast = byDay === clearBy && (lots.get(next.lotId)?.forecast ?? false);
  return {
    kind,
    refId: event.refId,
    node: event.node,
    storeId: row.id,
    storeName: row.name,
    toStoreId: event.otherStoreId,
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
    text: `${event.letter} ${weightWords(event.massG, season.readerUnits, crop)} ${where} by ${
      forecast ? "about " : ""
    }${dayWords(byDay)}`,
  };
}
