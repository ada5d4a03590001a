import { dayNumber, isoDate } from "../calendar.ts";
import { OLDEST_BREW_DAYS } from "../season/check/dates.ts";
import { forecastHarvestDay } from "../season/forecast.ts";
import type { Planting } from "../season/land.ts";
import type { Plan } from "../plan/plan.ts";
import type { Contract, FeedPickup } from "../season/brewing.ts";
import type { Lot } from "../season/grain.ts";
import type { Batch, Bookings, Order, RecordedBrew, RecordedRun } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import type { BatchFact } from "./batches.ts";
import { type Journal, journalOf } from "./journal.ts";
import type { RunFact } from "./journal-runs.ts";
import { stateAt } from "./state-at.ts";

/**
 * The season as it would be entered on a later day if everything went as planned: its opening position is the state at
 * 00:00 of `date`, and what has happened by then is in it. Runs under way and orders on the way are records; bookings
 * still to come stay; what nobody has booked is open again. The calendar keeps every brew, because the tail and the
 * reserve are reckoned from it: a brew that is made already, but might still be asked for, carries a bare record.
 * `date` lies after as-of and not after the plan's end; otherwise a RangeError.
 */
export function reopenAt(season: Season, plan: Plan | null, date: string): Season {
  const journal = journalOf(season, plan);
  const day = dayNumber(date);
  if (day <= journal.asOfDay || day > journal.planEnd) {
    throw new RangeError(
      `A season can be reopened from ${isoDate(journal.asOfDay + 1)} to ${
        isoDate(journal.planEnd)
      }, not on ${date}.`,
    );
  }
  const at = `${date}T00:00`;
  const state = stateAt(season, plan, at);
  const brews = madeButOpen(journal, day);
  const recorded = new Set(brews.map((one) => one.brewId));
  const harvested = harvestedBy(journal, day);
  const contracts = season.contracts.filter((one) => !isMet(journal, one, day));
  const feedPickups = pickupsLeft(journal, day);
  return {
    ...season,
    positionAt: at,
    asOf: at,
    ...(season.fixedAsOf === undefined ? {} : { fixedAsOf: at }),
    bookValues: season.bookValues.filter((one) =>
      // Pointers into a list that has lost rows would name other rows.
      (contracts.length === season.contracts.length || !one.startsWith("/contracts/")) &&
      (feedPickups.length === season.feedPickups.length || !one.startsWith("/feedPickups/"))
    ),
    plantings: season.plantings.map((one) => harvested.has(one.id) ? { ...one, state: "harvested" } : one),
    lots: season.lots.map((lot) => weighedLot(journal, lot, harvested, day)),
    seedReserves: season.seedReserves.filter((one) => one.on >= date),
    contracts,
    feedPickups,
    opening: {
      grain: [...state.grain],
      malt: state.batches.map(({ batch, massG }) => openingBatch(batch, massG)),
      tanks: state.tanks.filter((one) => one.brewId === null || !recorded.has(one.brewId)).map((one) => ({
        tankId: one.tankId,
        what: one.what,
        volumeL: one.volumeL,
        ...(one.since === null ? {} : { since: isoDate(one.since) }),
        freeOn: isoDate(one.freeDay),
      })),
    },
    records: {
      runs: [...new Set(state.vessels.map((one) => one.run))].map((run) => recordOf(run, at)),
      brews,
      orders: state.ordersOnTheWay.map((one): Order => ({
        id: one.id,
        offerId: one.offerId,
        orderedOn: isoDate(one.orderDay),
        arrivesOn: isoDate(one.arriveDay),
        packs: one.packs,
        batchId: one.batchId,
      })),
      feedLoads: [],
      moves: [],
      mixes: [],
      fills: [],
      deliveries: [],
      adjustments: [],
    },
    bookings: bookingsFrom(season.bookings, date, at),
  };
}

/**
 * Brews made before the day that would otherwise be asked for again, because their window is still open, or be taken for
 * slips of the pen, because it was over too long ago.
 */
function madeButOpen(journal: Journal, day: number): RecordedBrew[] {
  return journal.brews
    .filter((fact) => {
      const latest = dayNumber(fact.brew.latest);
      return fact.made && !fact.tail && fact.day < day && (latest >= day || latest < day - OLDEST_BREW_DAYS);
    })
    .map((fact) => ({
      brewId: fact.brew.id,
      on: isoDate(fact.day),
      tanks: [...fact.tanks],
      // What went into it is out of the opening stocks already.
      grist: [],
      note: "made before the opening position",
    }));
}

/** Plantings whose grain came in before the day. */
function harvestedBy(journal: Journal, day: number): Set<string> {
  const come = new Set(journal.fills.filter((one) => one.day < day).map((one) => one.lotId));
  for (const one of journal.plan?.leftOut ?? []) if (dayNumber(one.on) < day) come.add(one.lotId);
  return new Set(
    journal.season.plantings
      .filter((one) =>
        come.has(one.lotId) && (one.state === "planned" || one.state === "sown") &&
        dayNumber(one.harvest.likely) < day
      )
      .map((one) => one.id),
  );
}

/** A lot that has come in is no forecast any more, and keeps the waking days it was planned with. */
function weighedLot(journal: Journal, lot: Lot, harvested: ReadonlySet<string>, day: number): Lot {
  const came = journal.fills.find((one) => one.lotId === lot.id && one.day < day);
  if (!lot.forecast || came === undefined) return lot;
  const plantings = journal.season.plantings.filter((one) => one.lotId === lot.id);
  if (plantings.some((one) => !harvested.has(one.id) && one.state !== "harvested" && one.state !== "lost")) {
    return lot;
  }
  const grown = plantings.filter((one) => one.state !== "lost");
  const wakes = (which: "early" | "likely" | "late") =>
    isoDate(Math.max(...grown.map((one) => cutDay(journal, one) + one.restAfterHarvestDays[which])));
  return {
    ...lot,
    forecast: false,
    formedOn: isoDate(came.day),
    ...(lot.wakesOn === undefined && grown.length > 0
      ? { wakesOn: { early: wakes("early"), likely: wakes("likely"), late: wakes("late") } }
      : {}),
  };
}

/** The day from which a planting's rest counts: that of its forecast, or the last one on which it was weighed. */
function cutDay({ season }: Journal, planting: Planting): number {
  if (planting.state === "planned" || planting.state === "sown") {
    return forecastHarvestDay(planting, season.asOf);
  }
  const weighed = season.weighTickets.filter((one) => one.plantingId === planting.id)
    .map((one) => dayNumber(one.on));
  return weighed.length === 0 ? dayNumber(planting.harvest.likely) : Math.max(...weighed);
}

/** A contract that needs no more looking after: delivered, or its last day is over. */
function isMet(journal: Journal, contract: Contract, day: number): boolean {
  if (contract.kind === "buy-grain") return dayNumber(contract.on) < day;
  if (dayNumber(contract.to) < day) return true;
  return journal.grainSales.some((one) => one.refId === contract.id && one.day < day) ||
    journal.maltSales.some((one) => one.contractId === contract.id && one.day < day);
}

/** Pick-ups with the loads that are left of them. */
function pickupsLeft(journal: Journal, day: number): FeedPickup[] {
  return journal.season.feedPickups.flatMap((one) => {
    const gone = journal.feedLoads.filter((load) => load.pickupId === one.id && load.day < day).length;
    return gone >= one.mostLoads ? [] : [{ ...one, mostLoads: one.mostLoads - gone }];
  });
}

function openingBatch(batch: BatchFact, massG: number): Batch {
  const [kind, which] = batch.key.split(":") as ["malt" | "grain", string];
  return {
    id: batch.id,
    ingredient: kind === "malt" ? { kind, maltId: which } : { kind, crop: which as Lot["crop"] },
    massG,
    home: batch.home,
    lotIds: [...batch.lotIds],
    madeOn: isoDate(batch.madeDay),
    // Malt held for a result has no ready day; it is entered as never to be brewed.
    readyOn: isoDate(Number.isFinite(batch.readyDay) ? batch.readyDay : batch.lastDay + 1),
    bestBefore: isoDate(batch.lastDay),
    extractAsIs: batch.extractAsIs,
  };
}

function recordOf(run: RunFact, at: string): RecordedRun {
  return {
    id: run.id,
    draws: [...run.draws],
    maltId: run.maltId,
    profileId: run.profileId,
    vesselIds: run.vesselIds,
    steepInAt: run.steepInAt,
    ...(run.castAt !== null && run.castAt < at ? { castAt: run.castAt } : {}),
    ...(run.kilnAt !== null && run.kilnAt < at ? { kilnAt: run.kilnAt } : {}),
    outputs: [],
  };
}

function bookingsFrom(bookings: Bookings, date: string, at: string): Bookings {
  return {
    runs: bookings.runs.filter((one) => one.steepInAt >= at),
    brews: bookings.brews.filter((one) => one.on >= date),
    orders: bookings.orders.filter((one) => one.orderedOn >= date),
    feedLoads: bookings.feedLoads.filter((one) => one.on >= date),
    moves: bookings.moves.filter((one) => one.on >= date),
  };
}
