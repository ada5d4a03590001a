import { describe, expect, test } from "vitest";
import { causeOf, type Free, type Lack, Starts } from "../../../core/search/causes.ts";
import type { Demand, Problem } from "../../../core/search/problem.ts";
import type { VesselBoard } from "../../../core/search/vessels.ts";

const PLACE_G = 100;
/** The least load of the only start, from day 10 to day 14; its malt rests 4 days. */
const LEAST_G = 500;

interface Plan {
  /** Day of the brew, -1 without one; its window is day 16, then day 20. */
  day?: number;
  lack?: Lack | null;
  noRoom?: boolean;
  free?: Partial<Free>;
  /** Stages whose vessels are taken. */
  refused?: number[];
  /** Malts of the brew by number: made by the farm, not to be had, bought. */
  malts?: number[];
}

/** Why a brew of 150 g of each malt is not made, when only what is said is in its way. Invented. */
function why({ day = -1, lack = null, noRoom = false, free = {}, refused = [], malts = [0] }: Plan) {
  const material = { owner: "farm", made: null, restDays: 4, offers: [] };
  const problem = {
    materials: [
      { ...material, maltIndex: 0, malt: { name: "pale" }, made: { screeningLoss: 0 } },
      { ...material, maltIndex: 1, malt: { name: "dark" } },
      { ...material, maltIndex: 2, malt: { name: "smoked" }, offers: [{}] },
    ],
    lots: [{
      index: 0,
      lot: { owner: "farm" },
      crop: 0,
      fromDay: 0,
      totalG: 900,
      clocks: [{ firstDay: 0, lastDay: 50 }, null, null],
    }],
    slotsByMalt: [[{ malt: 0, steepDay: 10, stripDay: 14, leastG: [LEAST_G], greatestG: [800] }], [], []],
    ...{ asOfDay: 0, freeDay: 0 },
    season: {
      ...{ brews: [], tanks: [{ volumeL: 1000 }], brewhouse: { brewsPerDay: 1 } },
      maltStore: { placeG: PLACE_G },
    },
  } as unknown as Problem;
  const board = {
    fits: () => refused.length === 0,
    refuses: (_slot: unknown, _crop: unknown, stage: number) => refused.includes(stage),
  } as unknown as VesselBoard;
  const demand = {
    ...{ index: 0, id: "ale", volumeL: 900, wanted: 16, days: [16, 20] },
    lines: malts.map((one) => ({ material: one, bookMassG: 150 })),
  } as unknown as Demand;
  const all: Free = {
    grainG: () => LEAST_G,
    places: () => () => 2,
    takes: () => true,
    brewhouse: () => true,
    ...free,
  };
  const known = { problem, candidate: { day: Int32Array.of(day) }, free: all };
  return causeOf({ ...known, starts: new Starts(problem, board) }, demand, lack, noRoom);
}
const causeIn = (plan: Plan) => why(plan).cause;

describe("a brew without a day", () => {
  test("is blamed on the tanks only if none is free on any day of its window", () => {
    expect(causeIn({ free: { takes: () => false } })).toBe("tanks full");
    expect(causeIn({ free: { takes: () => false, brewhouse: () => false } })).toBe("brewhouse full");
    expect(why({ free: { takes: (_, on) => on === 20 }, malts: [1] }).why).toContain("nobody offers dark");
  });

  test("is judged by the first day on which a tank is free", () => {
    expect(causeIn({ free: { takes: (_, on) => on === 16 } })).toBe("no malt in time");
    expect(causeIn({ free: { takes: (_, on) => on === 20, grainG: () => 0 } })).toBe("no grain");
    expect(causeIn({ day: 20, free: { takes: () => false, grainG: () => 0 } })).toBe("no grain");
  });
});

describe("malt that is lacking", () => {
  const lack = { material: 0, day: 20 };

  test("lacks grain, where other runs have used it up to less than a load", () => {
    expect(causeIn({ day: 20, lack, free: { grainG: () => LEAST_G - 1 } })).toBe("no grain");
    expect(causeIn({ day: 20, lack, free: { grainG: () => LEAST_G } })).not.toBe("no grain");
  });

  test("lacks a place in the malt store between strip and brew", () => {
    const asked: number[][] = [];
    const places = (to: number) => (from: number) => asked.push([from, to]) && 0;
    const { cause, why: told } = why({ day: 20, lack, free: { places } });
    expect([cause, told]).toEqual([
      "malt store full",
      "the malt store has no room for a run of pale that would be ready in time",
    ]);
    expect(asked).toEqual([[14, 20]]);
    // A brew that lacks no one malt needs as many places as its malts take.
    expect(causeIn({ day: 20, free: { places: () => () => 1 } })).toBe("malt store full");
    expect(causeIn({ day: 20, lack, free: { places: () => () => 1 } })).not.toBe("malt store full");
  });

  test("lacks an order that was left out for want of room, if any order would have done", () => {
    const smoked = { material: 2, day: 20 };
    expect(why({ day: 20, lack: smoked, noRoom: true }).why).toContain("no room for an order of smoked");
    expect(why({ day: 20, lack: smoked }).why).toBe("no order of smoked can arrive by then");
    expect(causeIn({ day: 20, lack: { material: 1, day: 20 }, noRoom: true })).toBe("no supply in time");
  });

  test("lacks the vessel that other runs take", () => {
    const stages = [0, 1, 2].map((stage) => why({ day: 20, lack, refused: [stage] }));
    expect(stages.map((one) => one.cause)).toEqual(["steep full", "bed full", "kiln full"]);
    expect(stages[1]!.why).toContain("finds the bed taken by runs already planned");
  });
});

describe("where nothing stands in the way of a run", () => {
  test("it is said that the search found no better plan", () => {
    expect(why({ day: 20 }).why).toContain("the search found no better plan with it");
  });

  test("what stands in the way of another malt of the brew is the cause", () => {
    expect(why({ day: 20, malts: [0, 1] }).why).toContain("nobody offers dark");
    expect(causeIn({ day: 20, malts: [1, 0], free: { grainG: () => 0 } })).toBe("no supply in time");
  });
});
