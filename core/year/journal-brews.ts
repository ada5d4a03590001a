import { dateOf, dayNumber } from "../calendar.ts";
import type { Cause, Plan } from "../plan/plan.ts";
import type { Beer, Brew } from "../season/brewing.ts";
import type { RecordedBrew } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import { tailBrews } from "../season/tail.ts";
import type { BatchFact } from "./batches.ts";
import type { BrewStanding } from "./brews-band.ts";

/** One brew of the calendar or of its tail, recorded, planned, booked or left. */
export interface BrewFact {
  readonly brew: Brew;
  readonly beer: Beer;
  readonly standing: BrewStanding;
  /** Brew day; the day wanted when it is not made. */
  readonly day: number;
  readonly wantedDay: number;
  readonly tail: boolean;
  readonly made: boolean;
  readonly tanks: readonly { readonly tankId: string; readonly volumeL: number }[];
  readonly grist: RecordedBrew["grist"];
  readonly homeShare: number;
  readonly promiseHeld: boolean;
  readonly unbrewed: { readonly cause: Cause; readonly why: string } | null;
}

/** Every brew in order of its day. A brew whose window closed before as-of without a record is left out: nobody asks for it. */
export function brewsOf(
  season: Season,
  plan: Plan | null,
  batches: ReadonlyMap<string, BatchFact>,
): BrewFact[] {
  const beers = new Map(season.beers.map((one) => [one.id, one]));
  const records = new Map(season.records.brews.map((one) => [one.brewId, one]));
  const planned = new Map((plan?.brews ?? []).map((one) => [one.id, one]));
  const given = new Map((plan?.unbrewed ?? []).map((one) => [one.id, one]));
  const booked = new Map(season.bookings.brews.map((one) => [one.brewId, one]));
  const homeGrown = new Set(season.lots.filter((lot) => lot.origin === "own").map((lot) => lot.id));
  const today = dayNumber(dateOf(season.asOf));

  const read = (brew: Brew, tail: boolean): BrewFact[] => {
    const beer = beers.get(brew.beerId);
    if (beer === undefined) return [];
    const plain = {
      brew,
      beer,
      tail,
      wantedDay: dayNumber(brew.on),
      tanks: [],
      grist: [],
      homeShare: 0,
      promiseHeld: false,
      unbrewed: null,
    };
    const record = records.get(brew.id);
    if (record !== undefined) {
      const day = dayNumber(record.on);
      const homeShare = homeShareOf(record.grist, batches, homeGrown);
      return [{
        ...plain,
        standing: day + beer.tankDays <= today ? "done" : "under way",
        day,
        made: true,
        tanks: record.tanks,
        grist: record.grist,
        homeShare,
        promiseHeld: homeShare >= beer.homeSharePromise,
      }];
    }
    const made = planned.get(brew.id);
    if (made !== undefined) {
      return [{
        ...plain,
        standing: made.standing,
        day: dayNumber(made.on),
        made: true,
        tanks: made.tanks,
        grist: made.grist,
        homeShare: made.homeShare,
        promiseHeld: made.promiseHeld,
      }];
    }
    const left = given.get(brew.id);
    if (left !== undefined) {
      const { cause, why } = left;
      return [{
        ...plain,
        standing: "unbrewed",
        day: plain.wantedDay,
        made: false,
        unbrewed: { cause, why },
      }];
    }
    const booking = booked.get(brew.id);
    if (booking !== undefined && plan === null) {
      return [{ ...plain, standing: "booked", day: dayNumber(booking.on), made: false }];
    }
    if (dayNumber(brew.latest) < today) return [];
    return [{ ...plain, standing: "awaited", day: plain.wantedDay, made: false }];
  };

  const all = [
    ...season.brews.flatMap((brew) => read(brew, false)),
    ...tailBrews(season).flatMap((brew) => read(brew, true)),
  ];
  return all.sort((a, b) => a.day - b.day || (a.brew.id < b.brew.id ? -1 : 1));
}

/** Home-grown weight out of grist weight; 0 for an empty grist. */
function homeShareOf(
  grist: RecordedBrew["grist"],
  batches: ReadonlyMap<string, BatchFact>,
  homeGrown: ReadonlySet<string>,
): number {
  let homeG = 0, allG = 0;
  for (const use of grist) {
    const home = use.from.kind === "batch"
      ? batches.get(use.from.batchId)?.home ?? false
      : homeGrown.has(use.from.lotId);
    allG += use.massG;
    if (home) homeG += use.massG;
  }
  return allG === 0 ? 0 : homeG / allG;
}

/** Wort of a brew in litres. */
export function brewVolumeL(fact: BrewFact): number {
  return fact.brew.volumeL ?? fact.beer.volumeL;
}
