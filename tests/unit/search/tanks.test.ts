import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { assignTanks, type TankBoard, tankBoard } from "../../../core/search/tanks.ts";

interface Brew {
  day: number;
  tankDays: number;
  volumeL: number;
}

/** As much of a problem as tanks ask for. */
function problemWith(brews: readonly Brew[]): Problem {
  return { demands: brews.map((brew) => ({ kind: "brew", ...brew })) } as unknown as Problem;
}

function boardOf(
  volumeL: number[],
  turnaround: number,
  closed: [number, number][][] = [],
  freeDay: number[] = [],
): TankBoard {
  return {
    ids: volumeL.map((_, i) => `t${i}`),
    volumeL,
    turnaround: volumeL.map(() => turnaround),
    freeDay: volumeL.map((_, i) => freeDay[i] ?? -Infinity),
    closed: volumeL.map((_, i) => closed[i] ?? []),
    bySize: volumeL.map((_, i) => i).sort((a, b) => volumeL[a]! - volumeL[b]! || a - b),
  };
}

const assign = (brews: readonly Brew[], board: TankBoard) =>
  assignTanks(problemWith(brews), board, brews.map(({ day }, demand) => ({ demand, day })));

const brewsOf = (most: number) =>
  fc.array(
    fc.record({
      day: fc.integer({ min: 0, max: 40 }),
      tankDays: fc.integer({ min: 1, max: 15 }),
      volumeL: fc.integer({ min: 100, max: most }),
    }),
    { maxLength: 14 },
  ).map((list) => list.sort((a, b) => a.day - b.day));

describe("tanks", () => {
  test("hold one brew at a time, whole, when open and free; a brew without one would find none", () => {
    const stretch = fc.tuple(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 1, max: 10 }))
      .map(([from, days]): [number, number] => [from, from + days]);
    const tanks = fc.array(
      fc.record({
        volumeL: fc.integer({ min: 200, max: 1500 }),
        closed: fc.array(stretch, { maxLength: 2 }),
        freeDay: fc.integer({ min: -5, max: 15 }),
      }),
      { minLength: 1, maxLength: 5 },
    );
    fc.assert(
      fc.property(brewsOf(2500), tanks, fc.integer({ min: 0, max: 4 }), (brews, list, turn) => {
        const board = boardOf(
          list.map((one) => one.volumeL),
          turn,
          list.map((one) => one.closed),
          list.map((one) => one.freeDay),
        );
        const { tanks: chosen, without } = assign(brews, board);
        const taken: { tank: number; from: number; to: number }[] = [];
        const free = (tank: number, from: number, to: number) =>
          list[tank]!.freeDay <= from &&
          list[tank]!.closed.every(([shut, open]) => to <= shut || open <= from) &&
          taken.every((one) => one.tank !== tank || to <= one.from || one.to <= from);
        brews.forEach((brew, demand) => {
          const to = brew.day + brew.tankDays + turn;
          const open = list.keys().filter((tank) => free(tank, brew.day, to)).toArray();
          const room = open.map((tank) => list[tank]!.volumeL).sort((a, b) => b - a);
          const choice = chosen.get(demand);
          expect(choice === undefined).toBe(without.includes(demand));
          // One or two tanks may be used; with none given, not even the two largest open ones would do.
          if (!choice) {
            expect((room[0] ?? 0) + (room[1] ?? 0)).toBeLessThan(brew.volumeL);
            return;
          }
          expect(choice.length).toBe(room[0]! >= brew.volumeL ? 1 : 2);
          expect(choice.reduce((sum, one) => sum + one.volumeL, 0)).toBeCloseTo(brew.volumeL, 6);
          for (const { tank, volumeL } of choice) {
            expect(open).toContain(tank);
            expect(volumeL).toBeGreaterThan(0);
            expect(volumeL).toBeLessThanOrEqual(list[tank]!.volumeL);
          }
          for (const { tank } of choice) {
            expect(free(tank, brew.day, to)).toBe(true);
            taken.push({ tank, from: brew.day, to });
          }
        });
      }),
      { numRuns: 300, seed: 21 },
    );
  });

  test("when all are alike, are enough exactly when no day asks for more of them than there are", () => {
    fc.assert(
      fc.property(
        brewsOf(1000),
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 0, max: 4 }),
        (brews, n, turn) => {
          const { without } = assign(brews, boardOf(Array(n).fill(1000), turn));
          const most = Math.max(
            0,
            ...brews.map(({ day }) =>
              brews.filter((one) => one.day <= day && day < one.day + one.tankDays + turn).length
            ),
          );
          expect(without.length === 0).toBe(most <= n);
        },
      ),
      { numRuns: 300, seed: 22 },
    );
  });

  test("a brew larger than every tank is split over the two largest, to the millilitre", () => {
    const { tanks } = assign([{ day: 0, tankDays: 5, volumeL: 1642.869 }], boardOf([400, 1000, 900.5], 1));
    expect(tanks.get(0)).toEqual([{ tank: 1, volumeL: 1000 }, { tank: 2, volumeL: 642.869 }]);
  });

  test("a closure takes every day it touches, and the one it ends on only if it runs past midnight", () => {
    const closures = (from: string, to: string) => [{ from, to, reason: "seals" }];
    const tank = { volumeL: 1000, turnaroundDays: 2 };
    const problem = {
      season: {
        zone: "Europe/Dublin",
        tanks: [
          { id: "a", ...tank, closures: closures("2027-03-27T14:00", "2027-03-29T00:00") },
          { id: "b", ...tank, closures: closures("2027-03-27T14:00", "2027-03-29T00:01") },
        ],
      },
      book: { tankFree: new Map([["b", 7]]) },
    } as unknown as Problem;
    const first = dayNumber("2027-03-27");
    const board = tankBoard(problem);
    expect(board.closed).toEqual([[[first, first + 2]], [[first, first + 3]]]);
    expect(board.freeDay).toEqual([-Infinity, 7]);
  });
});
