import { dateOf, dayNumber } from "../calendar.ts";
import { recordedGrain } from "../season/grain-events.ts";
import { maltIsLocked } from "../season/lock.ts";
import { maltDeliveries } from "../season/malt-deliveries.ts";
import type { SupplyOffer } from "../season/brewing.ts";
import type { BookedRun, Order, RecordedRun } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import { pastSeed } from "../season/seed.ts";
import { instant } from "../zone.ts";

/** A batch of malt or bagged grain as the book knows it. Weights in grams as is, days as day numbers. */
export interface BookBatch {
  id: string;
  maltId: string | null;
  crop: string | null;
  massG: number;
  home: boolean;
  /** Lots it was made from and their shares, which add up to 1: by weight drawn; of what was counted at the opening, equal parts. */
  lots: readonly { lotId: string; share: number }[];
  arrivesDay: number;
  readyDay: number;
  lastDay: number;
  extractAsIs: number;
}

/** What the records say at `asOf`: opening position plus events. */
export interface Book {
  asOf: string;
  asOfMinute: number;
  asOfDay: number;
  /** lot id -> store id -> grams as in bin. */
  grain: Map<string, Map<string, number>>;
  batches: BookBatch[];
  runsUnderWay: RecordedRun[];
  runsEnded: RecordedRun[];
  /** First day on which each tank is free of what is recorded. */
  tankFree: Map<string, number>;
  /** The last day at whose end a lot that lay in a store was gone from it, whatever lies there since. */
  emptiedDay: Map<string, number>;
}

/** Extract, as is, of malt made from these lots in these clean weights. */
export function homeExtractAsIs(
  season: Season,
  maltId: string,
  lots: readonly { lotId: string; massG: number }[],
): number {
  const malt = season.maltTypes.find((one) => one.id === maltId);
  if (!malt) return 0;
  let weighted = 0;
  let total = 0;
  for (const { lotId, massG } of lots) {
    const own = season.lots.find((lot) => lot.id === lotId)?.maltExtractDb ?? malt.extractCoarseDb;
    weighted += own * massG;
    total += massG;
  }
  return (total > 0 ? weighted / total : malt.extractCoarseDb) * (1 - malt.maltMoistureWb);
}

/** A lot in a store while the book is added up. */
interface Pile {
  readonly lotId: string;
  readonly storeId: string;
  /** Below zero while more was taken than came: a day lists draws before fills, and a count may set it right later. */
  massG: number;
  /** Day since which nothing is left of it; undefined while something is. */
  emptiedDay: number | undefined;
}

/** Every lot in every store at the end of `asOfDay`. */
function pilesAt(season: Season, asOfDay: number): Pile[] {
  const piles = new Map<string, Pile>();
  const pileOf = (lotId: string, storeId: string) => {
    const key = `${lotId} ${storeId}`;
    const pile = piles.get(key) ?? { lotId, storeId, massG: 0, emptiedDay: undefined };
    piles.set(key, pile);
    return pile;
  };
  const seed = pastSeed(season, asOfDay).map((part) => ({ ...part, deltaG: -part.massG }));
  const events = [...recordedGrain(season, asOfDay), ...seed].sort((a, b) => a.day - b.day);
  for (const { day, lotId, storeId, deltaG } of events) {
    const pile = pileOf(lotId, storeId);
    pile.massG += deltaG;
    // Events come by day, so the last word is the balance at the day's end. What weighs nothing empties nothing.
    if (deltaG !== 0) pile.emptiedDay = pile.massG > 0 ? undefined : day;
  }
  return [...piles.values()];
}

/**
 * The book at `asOf`. A stock that ends below zero is given as zero: the season check has already asked for an adjustment.
 */
export function bookAt(season: Season, asOf: string): Book {
  const asOfMinute = instant(season.zone, asOf);
  const asOfDay = dayNumber(dateOf(asOf));
  const grain = new Map<string, Map<string, number>>();
  const emptiedDay = new Map<string, number>();
  for (const pile of pilesAt(season, asOfDay)) {
    const stores = grain.get(pile.lotId) ?? new Map<string, number>();
    grain.set(pile.lotId, stores.set(pile.storeId, Math.max(0, pile.massG)));
    if (pile.emptiedDay === undefined) continue;
    emptiedDay.set(pile.storeId, Math.max(emptiedDay.get(pile.storeId) ?? -Infinity, pile.emptiedDay));
  }

  const runsUnderWay: RecordedRun[] = [];
  const runsEnded: RecordedRun[] = [];
  for (const run of season.records.runs) {
    const over = run.endedAt ?? run.stripAt;
    (over !== undefined && over <= asOf ? runsEnded : runsUnderWay).push(run);
  }

  return {
    asOf,
    asOfMinute,
    asOfDay,
    grain,
    batches: batchesAt(season, asOfDay, runsEnded),
    runsUnderWay,
    runsEnded,
    tankFree: tanksFree(season),
    emptiedDay,
  };
}

/** Malt in store: what was counted at the opening position, and what came and went since. What is older is in the count. */
function batchesAt(season: Season, asOfDay: number, runsEnded: readonly RecordedRun[]): BookBatch[] {
  const batches = new Map<string, BookBatch>();
  const opened = dateOf(season.positionAt);
  for (const one of season.opening.malt) {
    const maltId = one.ingredient.kind === "malt" ? one.ingredient.maltId : null;
    batches.set(one.id, {
      id: one.id,
      maltId,
      crop: one.ingredient.kind === "grain" ? one.ingredient.crop : null,
      massG: one.massG,
      home: one.home,
      lots: one.lotIds.map((lotId) => ({ lotId, share: 1 / one.lotIds.length })),
      arrivesDay: dayNumber(one.madeOn),
      readyDay: maltIsLocked(season, maltId, one.lotIds) ? Infinity : dayNumber(one.readyOn),
      lastDay: dayNumber(one.bestBefore),
      extractAsIs: one.extractAsIs,
    });
  }
  for (const run of runsEnded) {
    if (run.outcome === "dumped" || run.outcome === "feed" || !run.stripAt) continue;
    if (run.stripAt < season.positionAt) continue;
    const home = run.draws.every((draw) =>
      season.lots.find((lot) => lot.id === draw.lotId)?.origin === "own"
    );
    const stripDay = dayNumber(dateOf(run.stripAt));
    const drawnG = run.draws.reduce((sum, draw) => sum + draw.massG, 0);
    for (const output of run.outputs) {
      const malt = season.maltTypes.find((one) => one.id === output.maltId);
      if (!malt) continue;
      batches.set(output.batchId, {
        id: output.batchId,
        maltId: output.maltId,
        crop: null,
        massG: output.massG,
        home,
        lots: run.draws.map(({ lotId, massG }) => ({ lotId, share: massG / drawnG })),
        arrivesDay: stripDay,
        // Held malt stands in the store, but nobody may brew with it.
        readyDay: run.outcome === "held" ||
            maltIsLocked(season, run.maltId, run.draws.map((draw) => draw.lotId))
          ? Infinity
          : stripDay + malt.restDays,
        lastDay: stripDay + malt.shelfLifeDays,
        extractAsIs: homeExtractAsIs(season, output.maltId, run.draws),
      });
    }
  }
  for (const order of season.records.orders) {
    const offer = season.supplyOffers.find((one) => one.id === order.offerId);
    if (!offer || order.arrivesOn < opened) continue;
    batches.set(order.batchId, orderedBatch(offer, order));
  }
  const take = (on: string, batchId: string, massG: number) => {
    const batch = batches.get(batchId);
    if (batch && on >= opened && dayNumber(on) <= asOfDay) batch.massG -= massG;
  };
  for (const brew of season.records.brews) {
    for (const use of brew.grist) if (use.from.kind === "batch") take(brew.on, use.from.batchId, use.massG);
  }
  for (const one of maltDeliveries(season)) take(one.on, one.batchId, one.massG);
  for (const one of season.records.adjustments) if (one.batchId) take(one.on, one.batchId, -one.deltaG);
  return [...batches.values()].filter((batch) => batch.massG > 0);
}

/** What an order brings. */
export function orderedBatch(offer: SupplyOffer, order: Order): BookBatch {
  const arrives = dayNumber(order.arrivesOn);
  return {
    id: order.batchId,
    maltId: offer.ingredient.kind === "malt" ? offer.ingredient.maltId : null,
    crop: offer.ingredient.kind === "grain" ? offer.ingredient.crop : null,
    massG: order.packs * offer.packG,
    home: false,
    lots: [],
    arrivesDay: arrives,
    readyDay: arrives,
    lastDay: arrives + offer.shelfLifeDays,
    extractAsIs: offer.extractAsIs,
  };
}

function tanksFree(season: Season): Map<string, number> {
  const free = new Map<string, number>();
  const later = (tankId: string, day: number) =>
    free.set(tankId, Math.max(free.get(tankId) ?? -Infinity, day));
  for (const one of season.opening.tanks) later(one.tankId, dayNumber(one.freeOn));
  for (const record of season.records.brews) {
    const brew = season.brews.find((one) => one.id === record.brewId);
    const beer = season.beers.find((one) => one.id === brew?.beerId);
    for (const { tankId } of record.tanks) {
      const tank = season.tanks.find((one) => one.id === tankId);
      later(tankId, dayNumber(record.on) + (beer?.tankDays ?? 0) + (tank?.turnaroundDays ?? 0));
    }
  }
  return free;
}

/** Bookings that are still to come: those whose record exists already are not repeated. */
export function openRunBookings(season: Season): BookedRun[] {
  const begun = new Set(season.records.runs.map((run) => run.id));
  return season.bookings.runs.filter((run) => !begun.has(run.id));
}
