import type { Problem } from "./problem.ts";

/** Counts the places of the malt store that are taken, by day from as-of. */
export class PlaceCount {
  /** Place-days that `over` found taken in all. */
  placeDays = 0;
  /** First day on which `over` found the store over its limit with malt of free runs there, or null. */
  firstDayOver: number | null = null;
  private readonly places: Int16Array;
  /** Places of what lies there whatever the plan does. */
  private readonly settled: Int16Array;

  private readonly room: Int32Array;

  constructor(private readonly problem: Problem) {
    this.room = new Int32Array(problem.endDay - problem.asOfDay + 1);
    this.places = new Int16Array(problem.endDay - problem.asOfDay + 800);
    this.settled = new Int16Array(this.places.length);
  }

  clear(): void {
    this.places.fill(0);
    this.settled.fill(0);
  }

  /** So many places more are taken from a day on. */
  change(settled: boolean, day: number, change: number): void {
    const d = Math.max(0, day - this.problem.asOfDay);
    if (d >= this.places.length) return;
    this.places[d] = (this.places[d] as number) + change;
    if (settled) this.settled[d] = (this.settled[d] as number) + change;
  }

  /**
   * Place-days above the malt store's limit, with `extra` places by day from as-of added for bought malt; days on which only what is
   * settled lies there are nobody's doing.
   */
  over(extra: Int16Array): number {
    const { problem, places } = this;
    let used = 0;
    let settled = 0;
    let made = 0;
    let over = 0;
    let placeDays = 0;
    let allowed = problem.season.maltStore.places;
    this.firstDayOver = null;
    const last = problem.endDay - problem.asOfDay;
    for (let d = 0; d <= last; d++) {
      settled += this.settled[d] as number;
      made += places[d] as number;
      used += (places[d] as number) + (extra[d] as number);
      placeDays += used;
      if (d === 0) allowed = Math.max(allowed, settled);
      if (used <= allowed || used === settled) continue;
      if (made > settled) this.firstDayOver ??= problem.asOfDay + d;
      over += used - allowed;
    }
    this.placeDays = placeDays;
    return over;
  }

  /** Places left for bought malt by day from as-of, below 0 where home malt of the plan is over; written anew by the next call. */
  roomByDay(): Int32Array {
    const { room } = this;
    let settled = 0;
    let made = 0;
    let allowed = this.problem.season.maltStore.places;
    for (let d = 0; d < room.length; d++) {
      settled += this.settled[d] as number;
      made += this.places[d] as number;
      if (d === 0) allowed = Math.max(allowed, settled);
      room[d] = made === settled ? Math.max(0, allowed - made) : allowed - made;
    }
    return room;
  }
}
