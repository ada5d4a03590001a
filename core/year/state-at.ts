import { dateOf, dayNumber } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { Stage } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import type { BatchFact } from "./batches.ts";
import { grainChanges } from "./grain-levels.ts";
import { type Journal, journalOf, type OrderFact } from "./journal.ts";
import { type BrewFact, brewVolumeL } from "./journal-brews.ts";
import type { RunFact } from "./journal-runs.ts";
import { maltChanges } from "./malt-levels.ts";
import { stageTimes } from "./journal-runs.ts";

/** Where everything is at one minute. */
export interface StateAt {
  readonly at: string;
  readonly grain: readonly { readonly lotId: string; readonly storeId: string; readonly massG: number }[];
  readonly batches: readonly {
    readonly batch: BatchFact;
    readonly massG: number;
    readonly state: "resting" | "ready" | "past its date";
  }[];
  /** What is in a vessel, and in which stage. */
  readonly vessels: readonly {
    readonly vesselId: string;
    readonly stage: Stage;
    readonly run: RunFact;
  }[];
  /** Beer in a tank, or a tank being cleaned after it; free again on `freeDay`. */
  readonly tanks: readonly {
    readonly tankId: string;
    readonly what: string;
    readonly volumeL: number;
    readonly since: number | null;
    readonly freeDay: number;
    readonly brewId: string | null;
  }[];
  readonly ordersOnTheWay: readonly OrderFact[];
}

/**
 * Where everything is at a minute between the opening position and the end of the plan, by records and plan. Grain for a
 * run leaves its store at the minute of its steep-in and malt comes in at that of its strip; everything that is dated by
 * the day (brews, loads, moves, fills, orders) has happened from 00:00 of its day on, except at 00:00 itself: midnight is the
 * end of the day before.
 */
export function stateAt(season: Season, plan: Plan | null, instant: string): StateAt {
  const journal = journalOf(season, plan);
  const day = dayNumber(dateOf(instant));
  // A thing of a day is over once the day has begun, but at its first minute the day before has only just ended.
  const lastDay = instant.endsWith("T00:00") ? day - 1 : day;
  const { batches } = journal;
  return {
    at: instant,
    grain: grainAt(journal, instant, lastDay),
    batches: batchesAt(journal, instant, lastDay).map(({ batch, massG }) => ({
      batch,
      massG,
      state: day < batch.readyDay ? "resting" : day <= batch.lastDay ? "ready" : "past its date",
    })),
    vessels: journal.runs.flatMap((run) =>
      stageTimes(run).filter((one) => one.from < instant && instant <= one.to)
        .slice(0, 1).map((one) => ({ vesselId: one.vesselId, stage: one.stage, run }))
    ),
    tanks: tanksAt(journal, day, lastDay),
    ordersOnTheWay: journal.orders.filter((one) =>
      one.orderDay <= lastDay && one.arriveDay > lastDay && batches.has(one.batchId)
    ),
  };
}

function grainAt(journal: Journal, instant: string, lastDay: number): StateAt["grain"] {
  const steeped = new Map(journal.runs.map((run) => [run.id, run.steepInAt]));
  const stores = new Map<string, { lotId: string; storeId: string; massG: number }>();
  const add = (storeId: string, lotId: string, deltaG: number) => {
    const key = `${storeId} ${lotId}`;
    const lay = stores.get(key) ?? { lotId, storeId, massG: 0 };
    lay.massG += deltaG;
    stores.set(key, lay);
  };
  for (const lay of journal.season.opening.grain) add(lay.storeId, lay.lotId, lay.massG);
  for (const change of grainChanges(journal)) {
    const happened = change.kind === "run" ? steeped.get(change.refId)! < instant : change.day <= lastDay;
    if (happened) add(change.storeId, change.lotId, change.deltaG);
  }
  return [...stores.values()].filter((one) => one.massG > 0);
}

function batchesAt(
  journal: Journal,
  instant: string,
  lastDay: number,
): { batch: BatchFact; massG: number }[] {
  const massG = new Map<string, number>();
  const strips = new Map(journal.runs.map((run) => [run.id, run.endAt]));
  for (const change of maltChanges(journal)) {
    const batch = journal.batches.get(change.batchId);
    const came = change.arrival ? batch?.source : undefined;
    const happened = came === "opening" ||
      (came === "run" ? strips.get(batch!.sourceId)! < instant : change.day <= lastDay);
    if (happened) massG.set(change.batchId, (massG.get(change.batchId) ?? 0) + change.deltaG);
  }
  return [...journal.batches.values()]
    .map((batch) => ({ batch, massG: massG.get(batch.id) ?? 0 }))
    .filter((one) => one.massG > 0);
}

function tanksAt(journal: Journal, day: number, lastDay: number): StateAt["tanks"] {
  const { season } = journal;
  const turnaround = new Map(season.tanks.map((tank) => [tank.id, tank.turnaroundDays]));
  const old = season.opening.tanks.map((one) => ({
    tankId: one.tankId,
    what: one.what,
    volumeL: one.volumeL,
    since: one.since === undefined ? null : dayNumber(one.since),
    freeDay: dayNumber(one.freeOn),
    brewId: null,
  }));
  const brewed = journal.brews.filter((fact) => fact.day <= lastDay).flatMap((fact) =>
    fact.tanks.map((tank) => ({
      tankId: tank.tankId,
      what: fact.beer.name,
      volumeL: Math.min(tank.volumeL, brewVolumeL(fact)),
      since: fact.day,
      freeDay: freeDayOf(fact, turnaround.get(tank.tankId) ?? 0),
      brewId: fact.brew.id,
    }))
  );
  return [...old, ...brewed].filter((one) => one.freeDay > day);
}

function freeDayOf(fact: BrewFact, turnaroundDays: number): number {
  return fact.day + fact.beer.tankDays + turnaroundDays;
}
