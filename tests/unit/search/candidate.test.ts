import { describe, expect, test } from "vitest";
import { lotFits, mayJoin } from "../../../core/search/candidate.ts";
import type { Problem, ProblemLot } from "../../../core/search/problem.ts";
import type { Slot } from "../../../core/search/slots.ts";

/** A lot of the first crop that may be steeped from day 10 to day 20 for the first of two malts. */
function lot(change: object = {}, grain: object = {}): ProblemLot {
  return {
    crop: 0,
    fromDay: 0,
    energy: 0.96,
    clocks: [{ firstDay: 10, lastDay: 20 }, null],
    lot: { organic: false, owner: "farm", ...grain },
    ...change,
  } as unknown as ProblemLot;
}

const problemOf = (...lots: ProblemLot[]) => ({ lots }) as unknown as Problem;

describe("a lot fits a slot", () => {
  const fits = (steepDay: number, one = lot(), malt = 0) =>
    lotFits(problemOf(one), { steepDay, malt, greatestG: [1000, 0] } as unknown as Slot, 0);

  test("from the day it wakes to its last day", () => {
    expect([9, 10, 20, 21].map((day) => fits(day))).toEqual([false, true, true, false]);
  });

  test("once it is there, for a malt it may make, in vessels that take its crop", () => {
    expect([11, 12].map((day) => fits(day, lot({ fromDay: 12 })))).toEqual([false, true]);
    expect(fits(15, lot(), 1)).toBe(false);
    expect(fits(15, lot({ clocks: [{ firstDay: null, lastDay: 20 }] }))).toBe(false);
    expect(fits(15, lot({ crop: 1 }))).toBe(false);
  });
});

describe("the tail of a lot is finished with another", () => {
  const joins = (other: ProblemLot, first = lot()) => mayJoin(problemOf(first, other), 0, 1);

  test("of the same crop, owner and organic status", () => {
    expect(joins(lot())).toBe(true);
    expect(mayJoin(problemOf(lot()), 0, 0)).toBe(false);
    expect(joins(lot({ crop: 1 }))).toBe(false);
    expect(joins(lot({}, { organic: true }))).toBe(false);
    expect(joins(lot({}, { owner: "a neighbour" }))).toBe(false);
  });

  test("whose energy lies within three points, where both were measured", () => {
    expect([0.94, 0.98].map((energy) => joins(lot({ energy })))).toEqual([true, true]);
    expect([0.92, 0.995].map((energy) => joins(lot({ energy })))).toEqual([false, false]);
    expect(joins(lot({ energy: null }), lot({ energy: 0.5 }))).toBe(true);
  });
});
