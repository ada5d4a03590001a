import { isoDate } from "../calendar.ts";
import { maltIsLocked } from "../season/lock.ts";
import type { Lot } from "../season/grain.ts";
import type { Batch, Order, RecordedRun } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import type { BatchFact } from "./batches.ts";
import type { RunFact } from "./journal-runs.ts";
import type { Stopped } from "./stopped.ts";
import { grainToEnter } from "./stopped-grain.ts";

/** What lies where when the season is stopped, as an opening position. `ofRecordedBrews` are brews whose tanks their records tell of. */
export function openingAt(
  stopped: Stopped,
  ofRecordedBrews: ReadonlySet<string> = new Set(),
): Season["opening"] {
  const { state } = stopped;
  return {
    grain: grainToEnter(stopped),
    malt: state.batches.map(({ batch, massG }) => openingBatch(stopped, batch, massG)),
    tanks: state.tanks.filter((one) => one.brewId === null || !ofRecordedBrews.has(one.brewId)).map((
      one,
    ) => ({
      tankId: one.tankId,
      what: one.what,
      volumeL: one.volumeL,
      ...(one.since === null ? {} : { since: isoDate(one.since) }),
      freeOn: isoDate(one.freeDay),
    })),
  };
}

function openingBatch({ season, day }: Stopped, batch: BatchFact, massG: number): Batch {
  const [kind, which] = batch.key.split(":") as ["malt" | "grain", string];
  return {
    id: batch.id,
    ingredient: kind === "malt" ? { kind, maltId: which } : { kind, crop: which as Lot["crop"] },
    massG,
    home: batch.home,
    lotIds: [...new Set(batch.lotIds)],
    madeOn: isoDate(batch.madeDay),
    ...batchDays(season, batch, kind === "malt" ? which : null, day),
    extractAsIs: batch.extractAsIs,
  };
}

/** From when to when a batch may be brewed. Malt of a lot that has failed is locked by that lot in the new season too. */
function batchDays(
  season: Season,
  batch: BatchFact,
  maltId: string | null,
  day: number,
): Pick<Batch, "readyOn" | "bestBefore"> {
  if (Number.isFinite(batch.readyDay)) {
    return { readyOn: isoDate(batch.readyDay), bestBefore: isoDate(batch.lastDay) };
  }
  const rest = season.maltTypes.find((one) => one.id === maltId)?.restDays ?? 0;
  if (maltIsLocked(season, maltId, batch.lotIds)) {
    return {
      readyOn: isoDate(Math.min(batch.madeDay + rest, batch.lastDay)),
      bestBefore: isoDate(batch.lastDay),
    };
  }
  // Malt held for a result: an opening batch cannot say so, and must not be brewed, so its days are over.
  return {
    readyOn: isoDate(batch.madeDay),
    bestBefore: isoDate(Math.max(batch.madeDay, Math.min(batch.lastDay, day - 1))),
  };
}

/** Batches that are held for a result when the season is stopped. */
export function heldBatches({ season, state }: Stopped): BatchFact[] {
  return state.batches.map((one) => one.batch).filter((batch) =>
    !Number.isFinite(batch.readyDay) &&
    !maltIsLocked(season, batch.key.startsWith("malt:") ? batch.key.slice(5) : null, batch.lotIds)
  );
}

/** Runs under way, as records; hand-overs that are planned for a time that is past have happened. */
export function runsUnderWay({ season, journal, at }: Stopped): RecordedRun[] {
  const records = new Map(season.records.runs.map((one) => [one.id, one]));
  return journal.runs
    .filter((run) => run.endAt >= at && (run.steepInAt < at || records.has(run.id)))
    .map((run) => recordOf(run, at, records.get(run.id)));
}

function recordOf(run: RunFact, at: string, record: RecordedRun | undefined): RecordedRun {
  return {
    ...(record ?? {
      id: run.id,
      draws: [...run.draws],
      maltId: run.maltId,
      profileId: run.profileId,
      vesselIds: run.vesselIds,
      steepInAt: run.steepInAt,
      outputs: [],
    }),
    ...(run.castAt !== null && run.castAt < at ? { castAt: run.castAt } : {}),
    ...(run.kilnAt !== null && run.kilnAt < at ? { kilnAt: run.kilnAt } : {}),
  };
}

/** Orders on the way, as records. */
export function ordersOnTheWay({ season, state }: Stopped): Order[] {
  const records = new Map(season.records.orders.map((one) => [one.id, one]));
  return state.ordersOnTheWay.map((one) =>
    records.get(one.id) ?? {
      id: one.id,
      offerId: one.offerId,
      orderedOn: isoDate(one.orderDay),
      arrivesOn: isoDate(one.arriveDay),
      packs: one.packs,
      batchId: one.batchId,
    }
  );
}
