import { dateOf, dayNumber } from "../calendar.ts";
import { instant, instantOf } from "../zone.ts";
import type { Problem } from "./problem.ts";

/** Tanks ready for the search: volumes, cleaning days, first free day and closed stretches, in days, half-open. */
export interface TankBoard {
  ids: readonly string[];
  volumeL: readonly number[];
  turnaround: readonly number[];
  freeDay: readonly number[];
  closed: readonly (readonly (readonly [from: number, to: number])[])[];
  /** Tank indices, smallest first. */
  bySize: readonly number[];
}

export function tankBoard(problem: Problem): TankBoard {
  const { season, book } = problem;
  return {
    ids: season.tanks.map((tank) => tank.id),
    volumeL: season.tanks.map((tank) => tank.volumeL),
    turnaround: season.tanks.map((tank) => tank.turnaroundDays),
    freeDay: season.tanks.map((tank) => book.tankFree.get(tank.id) ?? -Infinity),
    closed: season.tanks.map((tank) =>
      tank.closures.map((one) => {
        const to = dayNumber(dateOf(one.to));
        // A closure that ends at midnight does not touch that day.
        const touches = instant(season.zone, one.to) > instantOf(season.zone, to, 0);
        return [dayNumber(dateOf(one.from)), touches ? to + 1 : to] as const;
      })
    ),
    bySize: season.tanks.map((_, index) => index).sort((a, b) =>
      (season.tanks[a]?.volumeL ?? 0) - (season.tanks[b]?.volumeL ?? 0) || a - b
    ),
  };
}

/** Which tanks a brew goes into: one, or two with a split. */
export type TankChoice = readonly { tank: number; volumeL: number }[];

interface Dated {
  demand: number;
  day: number;
}

/**
 * Gives every brew a tank, in order of brew day: the smallest free one that holds it, else the two largest free ones. Brews
 * that find none are listed in `without`. One pass by start day is exact when all tanks hold every brew.
 */
export function assignTanks(
  problem: Problem,
  board: TankBoard,
  dated: readonly Dated[],
): { tanks: Map<number, TankChoice>; without: number[] } {
  const free = [...board.freeDay];
  const tanks = new Map<number, TankChoice>();
  const without: number[] = [];
  const isOpen = (tank: number, from: number, to: number) =>
    !(board.closed[tank] as readonly (readonly [number, number])[]).some(([shut, open]) =>
      from < open && shut < to
    );
  for (const { demand, day } of dated) {
    const brew = problem.demands[demand];
    if (!brew || brew.kind !== "brew") continue;
    const candidates = board.bySize.filter((tank) =>
      (free[tank] as number) <= day &&
      isOpen(tank, day, day + brew.tankDays + (board.turnaround[tank] as number))
    );
    // Of equal tanks the one that has stood empty longest is taken, so that all are used.
    let one: number | undefined;
    for (const tank of candidates) {
      if ((board.volumeL[tank] as number) < brew.volumeL) continue;
      if (one === undefined) one = tank;
      else if (board.volumeL[tank] === board.volumeL[one] && (free[tank] as number) < (free[one] as number)) {
        one = tank;
      }
    }
    if (one !== undefined) {
      tanks.set(demand, [{ tank: one, volumeL: brew.volumeL }]);
      free[one] = day + brew.tankDays + (board.turnaround[one] as number);
      continue;
    }
    const [largest, second] = [...candidates].reverse();
    const most = (tank: number | undefined) => tank === undefined ? 0 : board.volumeL[tank] as number;
    if (largest !== undefined && second !== undefined && most(largest) + most(second) >= brew.volumeL) {
      tanks.set(demand, [
        { tank: largest, volumeL: most(largest) },
        { tank: second, volumeL: round3(brew.volumeL - most(largest)) },
      ]);
      for (const tank of [largest, second]) {
        free[tank] = day + brew.tankDays + (board.turnaround[tank] as number);
      }
    } else without.push(demand);
  }
  return { tanks, without };
}

/** To the millilitre, the season file's finest volume. */
function round3(volumeL: number): number {
  return Math.round(volumeL * 1000) / 1000;
}
