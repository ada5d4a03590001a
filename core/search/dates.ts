import type { Demand, Problem } from "./problem.ts";
import { assignTanks, type TankBoard } from "./tanks.ts";

/** Brew dates: day of every demand, or -1; with quick questions about brewhouse and tanks. */
export class DateBoard {
  readonly day: Int32Array;
  private readonly perDay = new Map<number, number>();

  constructor(private readonly problem: Problem, private readonly board: TankBoard, from?: Int32Array) {
    this.day = from ? from.slice() : new Int32Array(problem.demands.length).fill(-1);
    for (const demand of problem.demands) this.count(demand.index, this.day[demand.index] as number, 1);
  }

  private count(demand: number, day: number, change: number): void {
    if (day < 0 || this.problem.demands[demand]?.kind !== "brew") return;
    this.perDay.set(day, (this.perDay.get(day) ?? 0) + change);
  }

  /** Sets a demand's day without asking. */
  put(demand: number, day: number): void {
    this.count(demand, this.day[demand] as number, -1);
    this.day[demand] = day;
    this.count(demand, day, 1);
  }

  /** Whether the brewhouse makes another brew on a day. */
  brewhouseOpen(day: number): boolean {
    return (this.perDay.get(day) ?? 0) < this.problem.season.brewhouse.brewsPerDay;
  }

  /** True when brewhouse and tanks still take all dated brews after `demand` is put on `day`. */
  allows(demand: number, day: number): boolean {
    const of = this.problem.demands[demand];
    if (!of) return false;
    if (of.kind === "sale") return true;
    const before = this.day[demand] as number;
    const others = (this.perDay.get(day) ?? 0) - (before === day ? 1 : 0);
    if (others >= this.problem.season.brewhouse.brewsPerDay) return false;
    this.day[demand] = day;
    const fine = this.tanksHold();
    this.day[demand] = before;
    return fine;
  }

  tanksHold(): boolean {
    return assignTanks(this.problem, this.board, this.dated()).without.length === 0;
  }

  dated(): { demand: number; day: number }[] {
    return datedOf(this.problem, this.day);
  }
}

/** Dated brews in order of day. */
export function datedOf(problem: Problem, day: Int32Array): { demand: number; day: number }[] {
  return datedDemands(problem, day).filter(({ demand }) => problem.demands[demand]?.kind === "brew");
}

/** All that is dated, brews and sales of malt, in order of day. */
export function datedDemands(problem: Problem, day: Int32Array): { demand: number; day: number }[] {
  return problem.demands.map(({ index }) => ({ demand: index, day: day[index] as number }))
    .filter((one) => one.day >= 0)
    .sort((a, b) => a.day - b.day || a.demand - b.demand);
}

/**
 * Dates brews by class, then by wanted day, each on the free day nearest to the wanted one; then tries to bring in what
 * was left out by moving one other brew inside its window, or by giving up one of a lower class.
 */
export function dateBrews(problem: Problem, board: TankBoard): DateBoard {
  const dates = new DateBoard(problem, board);
  const left: number[] = [];
  for (const index of inOrder(problem)) if (!placeNearest(problem, dates, index)) left.push(index);
  for (const index of left) makeRoom(problem, dates, index);
  return dates;
}

/**
 * Dates brews as an earlier plan has them (`was`, by id), bookings first; those it does not make, or not on a day that is still open,
 * as `dateBrews` would.
 */
export function datesLike(problem: Problem, board: TankBoard, was: ReadonlyMap<string, number>): DateBoard {
  const dates = new DateBoard(problem, board);
  const left = new Set<number>();
  for (const { index, booked, days } of problem.demands) if (booked) dates.put(index, days[0] as number);
  for (const { index, id, days, booked } of problem.demands) {
    if (booked) continue;
    const day = was.get(id) ?? -1;
    if (days.includes(day) && dates.brewhouseOpen(day)) dates.put(index, day);
    else left.add(index);
  }
  // Taken together they mostly hold, as they did before; otherwise one by one.
  if (!dates.tanksHold()) {
    const again = problem.demands.filter(({ index, booked }) => !booked && !left.has(index));
    const on = again.map(({ index }) => dates.day[index] as number);
    for (const { index } of again) dates.put(index, -1);
    again.forEach(({ index }, i) => {
      if (dates.allows(index, on[i] as number)) dates.put(index, on[i] as number);
      else left.add(index);
    });
  }
  const queue = inOrder(problem).filter((index) => left.has(index));
  const out = queue.filter((index) => !placeNearest(problem, dates, index));
  for (const index of out) makeRoom(problem, dates, index);
  return dates;
}

/** These dates, and for those that have none the nearest day to the wanted one that is still free, by class. */
export function withAllDated(problem: Problem, board: TankBoard, day: Int32Array): Int32Array {
  const dates = new DateBoard(problem, board, day);
  for (const index of inOrder(problem)) {
    if ((day[index] as number) < 0) placeNearest(problem, dates, index);
  }
  return dates.day;
}

/** These dates with every brew that is not booked on the last day that is still free for it: so what it needs may come in latest. */
export function withAllLate(problem: Problem, board: TankBoard, day: Int32Array): Int32Array {
  const dates = new DateBoard(problem, board, day);
  for (const { demand } of datedDemands(problem, day).reverse()) {
    const { booked, days } = problem.demands[demand] as Demand;
    if (booked) continue;
    const on = day[demand] as number;
    const late = days.filter((one) => one > on).sort((a, b) => b - a).find((one) =>
      dates.allows(demand, one)
    );
    if (late !== undefined) dates.put(demand, late);
  }
  return dates.day;
}

/** Demands by class, those with a single day first, then by wanted day. */
function inOrder(problem: Problem): number[] {
  const rank = (index: number) => problem.demands[index]?.booked ? 0 : problem.demands[index]?.class ?? 9;
  return problem.demands.map((demand) => demand.index).sort((a, b) =>
    rank(a) - rank(b) ||
    (problem.demands[a]?.days.length === 1 ? 0 : 1) - (problem.demands[b]?.days.length === 1 ? 0 : 1) ||
    (problem.demands[a]?.wanted ?? 0) - (problem.demands[b]?.wanted ?? 0) || a - b
  );
}

function placeNearest(problem: Problem, dates: DateBoard, index: number): boolean {
  const day = problem.demands[index]?.days.find((one) => dates.allows(index, one));
  if (day === undefined) return false;
  dates.put(index, day);
  return true;
}

function makeRoom(problem: Problem, dates: DateBoard, index: number): void {
  const demand = problem.demands[index];
  if (!demand) return;
  for (const day of demand.days) {
    const near = problem.demands.filter((other) => {
      const on = dates.day[other.index] as number;
      return other.kind === "brew" && !other.booked && on >= 0 && on + other.tankDays + 1 >= day &&
        on <= day + demand.tankDays + 1;
    });
    for (const other of near) {
      const was = dates.day[other.index] as number;
      for (const to of other.days) {
        if (to === was) continue;
        dates.put(other.index, to);
        if (dates.allows(other.index, to) && dates.allows(index, day)) {
          dates.put(index, day);
          return;
        }
      }
      dates.put(other.index, was);
    }
    for (const other of near.filter((one) => one.class > demand.class).sort((a, b) => b.class - a.class)) {
      const was = dates.day[other.index] as number;
      dates.put(other.index, -1);
      if (dates.allows(index, day)) {
        dates.put(index, day);
        placeNearest(problem, dates, other.index);
        return;
      }
      dates.put(other.index, was);
    }
  }
}
