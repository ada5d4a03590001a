import { describe, expect, test } from "vitest";
import type { Problem } from "../../../core/search/problem.ts";
import { overfilled, type Room } from "../../../core/search/stow-room.ts";
import { stow } from "../../../core/search/stow.ts";

const bin = (store: number, capacityG: number): Room => ({ store, capacityG, bags: 0 });
const row = (store: number, capacityG: number): Room => ({ store, capacityG, bags: 1 });

describe("a bin may be tried with more than it holds", () => {
  const tried = (room: Room[], massG: number, leavingG: number, thorough = false) =>
    overfilled(room, { massG }, leavingG, thorough).map(({ over, into, leftG }) => [
      over.store,
      into.map((one) => [one.store, one.massG]),
      leftG,
    ]);

  test("by as much as leaves the lot that day, one bin at a time", () => {
    const bins = [bin(0, 100), bin(1, 90)];
    expect(tried(bins, 120, 30)).toEqual([[0, [[0, 120]], 0], [1, [[1, 120]], 0]]);
    expect(tried(bins, 120, 20)).toEqual([[0, [[0, 120]], 0], [1, [[1, 110], [0, 10]], 0]]);
    expect(tried([bin(0, 100)], 120, 15)).toEqual([[0, [[0, 115]], 5]]);
    expect(tried([bin(0, 100), row(1, 50)], 120, 15)).toEqual([[0, [[0, 115], [1, 5]], 0]]);
  });

  test("but no row of bags, no bin that holds it all, and none for nothing", () => {
    expect(tried([row(0, 100)], 120, 30)).toEqual([]);
    expect(tried([bin(0, 120)], 120, 30)).toEqual([]);
    expect(tried([bin(0, 100)], 120, 0)).toEqual([]);
    expect(tried([bin(0, 100), bin(1, 200)], 120, 5)).toEqual([]);
  });

  test("with the rest left out too, when everything is tried", () => {
    const bins = [bin(0, 100), bin(1, 90)];
    expect(tried(bins, 120, 15)).toEqual([[0, [[0, 115], [1, 5]], 0], [1, [[1, 105], [0, 15]], 0]]);
    const all = tried(bins, 120, 15, true);
    expect(all).toContainEqual([0, [[0, 115]], 5]);
    expect(all).toContainEqual([1, [[1, 105]], 15]);
  });
});

describe("a fill of a lot that is drawn on the same day", () => {
  /** 1.5 t of a lot lie in a bin for 2 t, or in others too; more comes on day 20, 0.4 t are drawn on each day named. */
  function filled(days: number[], others: number[] = [], thorough = false, massG = 800_000) {
    const stock = [1_500_000, ...others].map((massG, store) => ({ store, massG }));
    const problem = {
      ...{ asOfDay: 0, freeDay: 3, endDay: 60, pickups: [] },
      lots: [{ index: 0, stock, endCentsPerG: 0 }],
      stores: stock.map(({ massG }, index) => ({
        ...{ index, turnaround: 0, bags: 0, freeDay: -Infinity },
        capacityG: [index === 0 ? 2_000_000 : massG],
      })),
      fills: [{ lot: 0, day: 20, massG }],
      season: { costs: { moveLoss: 0, moveCents: 0, movePerTonneCents: 0 } },
    } as unknown as Problem;
    const wants = days.map((day, key) => ({ day, lot: 0, massG: 400_000, key, single: false }));
    const { fills, leftOut, taken } = stow(problem, wants, [], 1, thorough);
    return {
      into: fills.map((one) => [one.store, one.massG]),
      leftG: leftOut.reduce((sum, one) => sum + one.massG, 0),
      from: taken.map((one) => one.store),
    };
  }

  test("may bring a bin as much more as is drawn from it", () => {
    for (const thorough of [false, true]) {
      expect(filled([20], [], thorough)).toEqual({ into: [[0, 800_000]], leftG: 0, from: [0] });
    }
  });

  test("has the rest left out where more comes", () => {
    const { into, leftG } = filled([20, 21], [], false, 1_200_000);
    expect([into, leftG]).toEqual([[[0, 900_000]], 300_000]);
  });

  test("may not when it is drawn a day later", () => {
    expect(filled([21])).toEqual({ into: [[0, 500_000]], leftG: 300_000, from: [0] });
  });

  test("may go into another bin that was full and is drawn from, and into no other then", () => {
    const { into, leftG, from } = filled([20], [400_000]);
    expect([into.toSorted(), leftG, from]).toEqual([[[0, 500_000], [1, 300_000]], 0, [1]]);
    expect(filled([20], [400_000], false, 1_200_000).leftG).toBe(300_000);
  });
});
