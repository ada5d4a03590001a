import { dayNumber, weekday } from "../calendar.ts";
import type { Book } from "../book/book.ts";
import { capacityKg, levelVolumeL } from "../physics/bin-capacity.ts";
import type { Store } from "../season/grain.ts";
import { donPpmOf, holdsTreatedSeed } from "../season/lock.ts";
import type { Season } from "../season/season.ts";
import type { Pickup, ProblemLot, ProblemStore } from "./problem.ts";

/** Volume of a bin filled level, litres. */
export function binVolumeL(shape: Extract<Store, { kind: "bin" }>["shape"]): number {
  return shape.kind === "volume" ? shape.volumeL : levelVolumeL(shape.diameterM, shape.depthM);
}

/** Bins and bag rows with what they hold of each lot. */
export function storesOf(season: Season, book: Book, lots: readonly ProblemLot[]): ProblemStore[] {
  return season.stores.map((store, index) => {
    const volume = store.kind === "bin" ? binVolumeL(store.shape) : store.placeVolumeL;
    const turnaround = store.kind === "bin" ? store.turnaroundDays : 0;
    const emptied = book.emptiedDay.get(store.id);
    return {
      index,
      id: store.id,
      store,
      turnaround,
      bags: store.kind === "bags" ? store.places : 0,
      capacityG: lots.map(({ lot }) => Math.floor(capacityKg(volume, lot.testWeightKgPerHl) * 1000)),
      freeDay: emptied === undefined ? -Infinity : emptied + turnaround,
    };
  });
}

/** Feed pick-ups with their days and loads still open. */
export function pickupsOf(
  season: Season,
  freeDay: number,
  endDay: number,
  lots: readonly ProblemLot[],
): Pickup[] {
  return season.feedPickups.map((pickup, index) => {
    const days: number[] = [];
    const last = Math.min(dayNumber(pickup.to), endDay);
    for (let day = Math.max(dayNumber(pickup.from), freeDay); day <= last; day++) {
      if (pickup.weekdays.includes(weekday(day))) days.push(day);
    }
    const done = [...season.records.feedLoads, ...season.bookings.feedLoads].filter((load) =>
      load.pickupId === pickup.id
    ).length;
    return {
      index,
      id: pickup.id,
      leastG: pickup.leastG,
      greatestG: pickup.greatestG,
      loads: Math.max(0, pickup.mostLoads - done),
      perTonneCents: pickup.perTonneCents,
      haulageCents: pickup.haulageCents,
      days,
      takes: lots.map(({ lot }) => {
        const don = donPpmOf(season, lot) ?? 0;
        return pickup.crops.includes(lot.crop) && don <= pickup.donPpmMost &&
          !holdsTreatedSeed(season, lot) &&
          lot.owner === "farm";
      }),
    };
  });
}
