import { describe, expect, test } from "vitest";
import { DateBoard, dateBrews, withAllDated, withAllLate } from "../../../core/search/dates.ts";
import type { Problem } from "../../../core/search/problem.ts";
import type { TankBoard } from "../../../core/search/tanks.ts";

interface Brew {
  wanted: number;
  days: number[];
  class?: number;
  booked?: boolean;
}

/** Brews that hold a tank for ten days, in a house that makes one a day. */
function problemOf(brews: readonly Brew[], brewsPerDay = 1): Problem {
  return {
    demands: brews.map((brew, index) => ({
      ...{ index, kind: "brew", class: 2, booked: false, tankDays: 10, volumeL: 900 },
      ...brew,
    })),
    season: { brewhouse: { brewsPerDay } },
  } as unknown as Problem;
}

function tanksOf(count: number): TankBoard {
  const each = Array.from({ length: count }, (_, i) => i);
  return {
    ids: each.map((i) => `t${i}`),
    volumeL: each.map(() => 1000),
    turnaround: each.map(() => 0),
    freeDay: each.map(() => -Infinity),
    closed: each.map(() => []),
    bySize: each,
  };
}

const datesOf = (
  brews: readonly Brew[],
  tanks: number,
  brewsPerDay = 1,
) => [...dateBrews(problemOf(brews, brewsPerDay), tanksOf(tanks)).day];

describe("a brew may be put on a day", () => {
  test("on which the brewhouse makes one more, itself not counted", () => {
    const brews = [1, 1, 1].map(() => ({ wanted: 5, days: [5, 6] }));
    const allowed = (brewsPerDay: number) => {
      const board = new DateBoard(problemOf(brews, brewsPerDay), tanksOf(9));
      board.put(0, 5);
      return [board.allows(0, 5), board.allows(1, 5), board.allows(1, 6)];
    };
    expect(allowed(1)).toEqual([true, false, true]);
    expect(allowed(2)).toEqual([true, true, true]);
  });

  test("only if all brews still find a tank", () => {
    const board = new DateBoard(
      problemOf([{ wanted: 5, days: [5] }, { wanted: 14, days: [14, 15] }]),
      tanksOf(1),
    );
    board.put(0, 5);
    expect([board.allows(1, 14), board.allows(1, 15)]).toEqual([false, true]);
  });
});

describe("brews are dated", () => {
  test("on the free day nearest to the one wanted, those of the first class first", () => {
    const brews = [{ wanted: 5, days: [5, 6] }, { wanted: 5, days: [5, 6], class: 1 }];
    expect(datesOf(brews, 9)).toEqual([6, 5]);
  });

  test("by moving another inside its window, or giving up one of a lower class", () => {
    expect(datesOf([{ wanted: 5, days: [5, 6], class: 1 }, { wanted: 5, days: [5] }], 9)).toEqual([6, 5]);
    const three = { wanted: 5, days: [5], class: 3 };
    expect(datesOf([three, { wanted: 4, days: [4, 5, 3], class: 1 }, { wanted: 4, days: [4], class: 1 }], 1))
      .toEqual([-1, -1, 4]);
  });

  test("but a booked one keeps its day, whatever its class", () => {
    const booked = { wanted: 5, days: [5, 6], class: 3, booked: true };
    expect(datesOf([{ wanted: 5, days: [5], class: 1 }, booked], 9)).toEqual([-1, 5]);
  });
});

describe("brews left without a day", () => {
  const given = (
    brews: readonly Brew[],
    day: number[],
    tanks: number,
  ) => [...withAllDated(problemOf(brews), tanksOf(tanks), Int32Array.from(day))];

  test("get the nearest free one, and those that have one keep it", () => {
    const brews = [{ wanted: 5, days: [5, 6, 4] }, { wanted: 5, days: [5, 6, 4] }];
    expect(given(brews, [5, -1], 2)).toEqual([5, 6]);
    expect(given(brews, [6, -1], 2)).toEqual([6, 5]);
  });

  test("stay without where no tank is free, the higher class first", () => {
    const brews = [
      { wanted: 5, days: [5] },
      { wanted: 5, days: [6], class: 3 },
      { wanted: 5, days: [6], class: 1 },
    ];
    expect(given(brews, [5, -1, -1], 1)).toEqual([5, -1, -1]);
    expect(given(brews, [5, -1, -1], 2)).toEqual([5, -1, 6]);
  });
});

describe("brews as late as they may be", () => {
  const late = (brews: readonly Brew[], day: number[], tanks: number) => [
    ...withAllLate(problemOf(brews), tanksOf(tanks), Int32Array.from(day)),
  ];

  test("move to the last day that is free, the last brew first, and never to an earlier one", () => {
    const brews = [{ wanted: 5, days: [5, 6, 4, 7] }, { wanted: 6, days: [6, 7, 5] }, {
      wanted: 9,
      days: [9, 8],
    }];
    expect(late(brews, [5, 6, 9], 3)).toEqual([6, 7, 9]);
  });

  test("stay where no tank is free later, and where they are booked or have no day", () => {
    const brews = [{ wanted: 5, days: [5, 12] }, { wanted: 16, days: [16, 20] }];
    expect(late(brews, [5, 16], 1)).toEqual([5, 20]);
    expect(late([{ wanted: 5, days: [5, 9] }, { wanted: 16, days: [16, 20], booked: true }], [5, 16], 1))
      .toEqual([5, 16]);
    expect(late([{ wanted: 5, days: [5, 9] }], [-1], 1)).toEqual([-1]);
  });
});
