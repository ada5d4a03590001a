import { CROPS } from "../season/quantity.ts";
import { instant } from "../zone.ts";
import type { Problem } from "./problem.ts";
import type { Slot } from "./slots.ts";

interface Occupied {
  from: number;
  to: number;
  crop: number;
}

/**
 * Which vessel is taken when, so that a run can be tried, put in and taken out quickly. Cleaning is judged between
 * neighbours: change-over hours of the two crops, or the vessel's cleaning hours.
 */
export class VesselBoard {
  private readonly taken: Occupied[][];
  private readonly cleaning: number[][][];
  private readonly nights = new Map<number, number>();
  private readonly mostNights: number[];

  constructor(problem: Problem) {
    const { vessels } = problem.season;
    this.taken = vessels.map(() => []);
    this.cleaning = cleaningMinutes(problem);
    this.mostNights = vessels.map((vessel) =>
      vessel.turning?.by === "hand" ? vessel.turning.mostNightTurnsPerWeek : Infinity
    );
    this.putPast(problem);
  }

  /** Runs that are over still ask for cleaning before the next load. */
  private putPast(problem: Problem): void {
    const { season, book } = problem;
    const indexOf = (id: string) => season.vessels.findIndex((vessel) => vessel.id === id);
    for (const run of book.runsEnded) {
      const crop = CROPS.indexOf(season.lots.find((lot) => lot.id === run.draws[0]?.lotId)?.crop ?? "barley");
      const end = instant(season.zone, run.endedAt ?? run.stripAt ?? run.steepInAt);
      const stops = [run.steepInAt, run.castAt, run.kilnAt, run.stripAt];
      (["steep", "bed", "kiln"] as const).forEach((stage, i) => {
        const begun = stops[i];
        const vessel = indexOf(run.vesselIds[stage]);
        if (begun === undefined || vessel < 0) return;
        const to = Math.min(
          end,
          stops[i + 1] === undefined ? end : instant(season.zone, stops[i + 1] as string),
        );
        this.insert(vessel, { from: instant(season.zone, begun), to, crop });
      });
    }
  }

  private insert(vessel: number, one: Occupied): void {
    const list = this.taken[vessel] as Occupied[];
    list.splice(this.place(list, one.from), 0, one);
  }

  /** Index of the first stretch that begins at or after `from`. */
  private place(list: readonly Occupied[], from: number): number {
    let low = 0;
    let high = list.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((list[middle] as Occupied).from < from) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  private fitsIn(vessel: number, from: number, to: number, crop: number): boolean {
    const list = this.taken[vessel] as Occupied[];
    const cleaning = this.cleaning[vessel] as number[][];
    const at = this.place(list, from);
    const before = list[at - 1];
    const after = list[at];
    if (before && before.to + ((cleaning[before.crop] as number[])[crop] as number) > from) return false;
    if (after && to + ((cleaning[crop] as number[])[after.crop] as number) > after.from) return false;
    return true;
  }

  /** True when a load of `crop` can go through the slot's vessels at its times. */
  fits(slot: Slot, crop: number): boolean {
    const { vessels, times, nights } = slot;
    let from: number = times[0];
    for (let stage = 0; stage < 3; stage++) {
      if (keepsVessel(vessels, stage)) continue;
      const to = times[stage + 1] as number;
      if (!this.fitsIn(vessels[stage] as number, from, to, crop)) return false;
      from = to;
    }
    const bed = vessels[1];
    for (const [week, turns] of nights) {
      if ((this.nights.get(week * 64 + bed) ?? 0) + turns > (this.mostNights[bed] as number)) return false;
    }
    return true;
  }

  put(slot: Slot, crop: number): void {
    const { vessels, times } = slot;
    let from: number = times[0];
    for (let stage = 0; stage < 3; stage++) {
      if (keepsVessel(vessels, stage)) continue;
      const to = times[stage + 1] as number;
      this.insert(vessels[stage] as number, { from, to, crop });
      from = to;
    }
    this.countNights(slot, 1);
  }

  remove(slot: Slot): void {
    const { vessels, times } = slot;
    let from: number = times[0];
    for (let stage = 0; stage < 3; stage++) {
      if (keepsVessel(vessels, stage)) continue;
      const list = this.taken[vessels[stage] as number] as Occupied[];
      list.splice(this.place(list, from), 1);
      from = times[stage + 1] as number;
    }
    this.countNights(slot, -1);
  }

  private countNights(slot: Slot, sign: number): void {
    for (const [week, turns] of slot.nights) {
      const key = week * 64 + slot.vessels[1];
      this.nights.set(key, (this.nights.get(key) ?? 0) + sign * turns);
    }
  }

  /** Whether one vessel alone refuses the slot: used to name a cause. */
  refuses(slot: Slot, crop: number, stage: 0 | 1 | 2): boolean {
    return !this.fitsIn(
      slot.vessels[stage],
      slot.times[stage] as number,
      slot.times[stage + 1] as number,
      crop,
    );
  }
}

/** Minutes between a load of one crop and a load of the next, by vessel, crop index and crop index. */
export function cleaningMinutes({ season }: Problem): number[][][] {
  return season.vessels.map((vessel) =>
    CROPS.map((from) =>
      CROPS.map((to) =>
        60 *
        (vessel.changeOver.find((one) => one.from === from && one.to === to)?.hours ?? vessel.cleaningHours)
      )
    )
  );
}

/** A vessel that a run is in, epoch minutes. */
export interface Stretch {
  readonly vessel: number;
  readonly from: number;
  readonly to: number;
}

/** Where a run of the slot is in turn. */
export function stretchesOf({ vessels, times }: Slot): Stretch[] {
  const stretches: Stretch[] = [];
  let from: number = times[0];
  for (let stage = 0; stage < 3; stage++) {
    if (keepsVessel(vessels, stage)) continue;
    const to = times[stage + 1] as number;
    stretches.push({ vessel: vessels[stage] as number, from, to });
    from = to;
  }
  return stretches;
}

/** Whether a run keeps the stage's vessel for the next stage: both are one stretch. */
function keepsVessel(vessels: Slot["vessels"], stage: number): boolean {
  return stage < 2 && vessels[stage] === vessels[stage + 1];
}
