import { describe, expect, test } from "vitest";
import type { LineTable } from "../../../core/search/lines.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { Server } from "../../../core/search/serve.ts";
import type { Supply } from "../../../core/search/supply.ts";

interface Use {
  day: number;
  needG: number;
  material: number;
  /** Home malt that a promise counts on. */
  promisedG?: number;
  /** What can be had of nothing but the store. */
  claimG?: number;
  /** What its brew asks for by name, by lot. */
  requires?: readonly { counts: boolean[]; unmixed: boolean }[];
  /** What is bought for it where its own malt cannot be had. */
  boughtAs?: number;
}

/** A malt and raw wheat, of which 60 g come on day 10; places of 50 g, one of them; bought malt that comes on `boughtOn` takes one
 * more. Each use is a brew of one line. */
function served(
  uses: readonly Use[],
  batches: readonly Supply[],
  floorG = 0,
  boughtOn: readonly number[] = [],
  bags: readonly Supply[] = [],
) {
  const n = uses.length;
  const problem = {
    ...{ asOfDay: 0, freeDay: 0, horizonDay: 29, endDay: 40 },
    materials: [
      { index: 0, malt: {}, crop: null, floorG },
      { index: 1, malt: null, crop: "wheat", floorG: 0 },
      { index: 2, malt: {}, crop: null, floorG: 0 },
    ],
    lots: [{ index: 0, raw: true, home: true, fromDay: 10, lot: { crop: "wheat" } }],
    demands: uses.map(({ promisedG = 0, requires = [] }, index) => ({
      ...{ index, promise: promisedG > 0 ? 0.5 : 0, requires },
    })),
    season: { maltStore: { places: 1, placeG: 50 }, costs: { reservePerTonneDayCents: 1e6 } },
  } as unknown as Problem;
  const table = {
    length: n,
    linesOf: uses.map((_, i) => [i]),
    demand: Int32Array.from(uses.keys()),
    material: Int32Array.from(uses.map((use) => use.material)),
    need: Float64Array.from(uses.map((use) => use.needG)),
    bookG: Float64Array.from(uses.map((use) => use.needG)),
    claim: Float64Array.from(uses.map((use) => use.promisedG ?? use.claimG ?? 0)),
    homeClaim: Float64Array.from(uses.map((use) => use.promisedG ?? 0)),
    rawExtract: () => 0.6,
    boughtAs: (line: number) => uses[line]!.boughtAs ?? uses[line]!.material,
  } as unknown as LineTable;
  const server = new Server(problem, table);
  const order = [...uses.keys()],
    status = Uint8Array.from(uses.map((use) => use.promisedG === undefined ? 1 : 2));
  const day = Int32Array.from(uses.map((use) => use.day));
  const reserveCents = server.serve([batches, bags, []], order, day, status, Float64Array.of(60));
  const over = server.places.over(Int16Array.from({ length: 42 }, (_, d) => boughtOn.includes(d) ? 1 : 0));
  return {
    home: [...server.home],
    held: uses.map(({ needG }, line) =>
      needG - server.home[line]! -
      server.deficits.reduce((sum, one) => one.line === line ? sum + one.extractG : sum, 0)
    ),
    lacks: server.deficits.map(({ line, extractG }) => [line, extractG]),
    bought: server.deficits.map(({ line, material, bought }) => [line, material, bought]),
    ...{ reserveCents, over, firstDayOver: server.places.firstDayOver, placeDays: server.places.placeDays },
    named: [...server.named],
    namedShares: order.map((demand) => server.namedShare(demand)),
    room: server.places.roomByDay(),
  };
}

/** A hundred grams of home malt, all of it extract, that come on day 5 and are good from day 10 to day 20. */
const BATCH: Supply = {
  ...{ arrives: 5, ready: 10, last: 20, extractG: 100, perG: 1 },
  home: true,
  settled: false,
  share: null,
};
const malt = (day: number, needG: number): Use => ({ day, needG, material: 0 });

describe("malt is served", () => {
  test("from the day it is ready to its last day, and what it lacks is told", () => {
    const { home, lacks } = served([9, 10, 20, 21].map((day) => malt(day, 30)), [BATCH]);
    expect(home).toEqual([0, 30, 30, 0]);
    expect(lacks).toEqual([[0, 30], [3, 30]]);
  });

  test("as far as it goes, first in, first out", () => {
    const later = { ...BATCH, ready: 12, last: 30, extractG: 10 };
    const { home, lacks } = served([malt(12, 80), malt(13, 60)], [BATCH, later]);
    expect(home).toEqual([80, 30]);
    expect(lacks).toEqual([[1, 30]]);
  });

  test("and needs that are met with another malt stand with that malt's own, in order of day", () => {
    const uses = [malt(25, 5), { ...malt(22, 5), boughtAs: 2 }, { ...malt(21, 5), material: 2 }, {
      ...malt(23, 5),
      boughtAs: 2,
    }];
    expect(served(uses, []).bought).toEqual([[0, 0, 0], [2, 2, 2], [1, 0, 2], [3, 0, 2]]);
  });

  test("and each gram under the floor costs its price for each day of the horizon", () => {
    // Ready stock is 0 on days 1 to 9, 100 g on days 10 to 20, 0 again from day 21 to day 29.
    expect(served([], [BATCH], 40).reserveCents).toBeCloseTo(40 * (9 + 9), 9);
    expect(served([malt(15, 80)], [BATCH], 40).reserveCents).toBeCloseTo(40 * (9 + 9) + 20 * 6, 9);
  });
});

describe("bought malt in the store", () => {
  const BOUGHT: Supply = { ...BATCH, home: false, settled: true, extractG: 60 };

  test("goes first where no promise counts on home malt, and none where one does", () => {
    const { home, held } = served([malt(12, 80), { ...malt(13, 80), promisedG: 80 }], [BATCH, BOUGHT]);
    expect(home).toEqual([20, 80]);
    expect(held).toEqual([60, 0]);
  });

  test("makes a brew whose promise home malt no longer keeps", () => {
    const { home, held, lacks } = served([malt(12, 90), { ...malt(13, 80), promisedG: 80 }], [BATCH, BOUGHT]);
    expect([home, held, lacks]).toEqual([[20, 80], [60, 0], [[0, 10]]]);
    const late = { ...BOUGHT, ready: 14 };
    const only = served([{ ...malt(12, 90), claimG: 90 }, { ...malt(15, 60), promisedG: 60 }], [BATCH, late]);
    expect([only.home, only.held, only.lacks]).toEqual([[90, 10], [0, 50], []]);
  });
});

describe("places in the malt store", () => {
  test("are taken from the arrival until uses have emptied them, begun ones counted whole", () => {
    const { over, firstDayOver } = served([malt(12, 40), malt(15, 20)], [BATCH]);
    expect([over, firstDayOver]).toEqual([10, 5]);
  });

  test("are named as crowded from the first day on which a run's malt is there, not a settled crowd's", () => {
    const lies = { ...BATCH, arrives: 0, ready: 3, settled: true };
    const comes = { ...BATCH, arrives: 8, ready: 12, last: 30 };
    expect(served([], [lies, comes]).firstDayOver).toBe(8);
    expect(served([], [lies], 0, [4]).firstDayOver).toBeNull();
  });

  test("are not missing where all that lies there was settled before", () => {
    expect(served([malt(15, 60)], [{ ...BATCH, settled: true }]).over).toBe(0);
  });
});

describe("room for bought malt", () => {
  const roomOn = (days: number[], ...args: Parameters<typeof served>) => {
    const { room } = served(...args);
    return days.map((day) => room[day]);
  };

  test("is what home malt leaves of the places day by day, less than none where it is over", () => {
    const uses = [malt(12, 60), malt(15, 40)];
    expect(roomOn([0, 4, 5, 11, 12, 14, 15, 40], uses, [BATCH])).toEqual([1, 1, -1, -1, 0, 0, 1, 1]);
  });

  test("is none, not less, where only what was settled before lies there", () => {
    const lies = { ...BATCH, settled: true };
    expect(roomOn([4, 5, 12, 15], [malt(12, 60), malt(15, 40)], [lies])).toEqual([1, 0, 0, 1]);
    // What lies there at as-of is allowed, and room for others once it is used.
    const crowd = { ...lies, arrives: 0 };
    expect(roomOn([0, 12, 15], [malt(12, 60), malt(15, 40)], [crowd])).toEqual([0, 1, 2]);
    const run = { ...BATCH, arrives: 8, extractG: 50 };
    expect(roomOn([7, 8], [], [lies, run])).toEqual([0, -2]);
  });
});

test("places are counted day by day, bought malt's too", () => {
  const uses = [malt(12, 60), malt(15, 40)];
  expect(served(uses, [BATCH]).placeDays).toBe(2 * 7 + 3);
  expect(served(uses, [BATCH], 0, [30]).placeDays).toBe(2 * 7 + 3 + 11);
});

describe("grain asked for by name", () => {
  const asking = (...requires: { counts: boolean[]; unmixed: boolean }[]): Use => ({
    ...malt(12, 40),
    requires,
  });
  const first = { counts: [true, false], unmixed: false };
  const of = (use: Use, shares: readonly [number, number][] | null) => {
    const { named, namedShares } = served([use], [{ ...BATCH, share: shares && new Map(shares) }]);
    return [named[0], namedShares[0]];
  };

  test("counts by its share of the malt, and where it must be unmixed only when all is of it", () => {
    expect(of(asking(first), [[0, 0.25], [1, 0.75]])).toEqual([10, 0.25]);
    expect(of(asking({ ...first, unmixed: true }), [[0, 0.25], [1, 0.75]])).toEqual([0, 0]);
    expect(of(asking({ ...first, unmixed: true }), [[0, 1]])).toEqual([40, 1]);
    expect(of(asking(first), null)).toEqual([0, 0]);
    expect(of(asking(), [[0, 1]])).toEqual([0, 0]);
  });

  test("counts only if it meets all that the brew asks for", () => {
    const both = { counts: [true, true], unmixed: false };
    expect(of(asking(first, both), [[0, 0.25], [1, 0.75]])).toEqual([10, 0.25]);
    expect(of(asking(first, { counts: [false, true], unmixed: false }), [[0, 1]])).toEqual([0, 0]);
  });

  test("may be raw grain of the farm", () => {
    const raw = (...counts: boolean[]): Use => ({ ...asking({ ...first, counts }), material: 1 });
    expect([raw(true), raw(false)].map((use) => served([use], []).namedShares)).toEqual([[1], [0]]);
  });
});

test("raw grain in bags takes up places until it is used, of poorer grain more than the book says", () => {
  // Of 100 g in two places a need of 40 g takes 48: it is worth 0.5 where the book has 0.6.
  const bag = { ...BATCH, ready: 0, arrives: 0, home: false, rawExtract: 0.5 };
  const uses = [5, 8].map((day): Use => ({ day, needG: 40, material: 1 }));
  const { held, lacks, placeDays } = served(uses, [], 0, [], [bag]);
  expect(held).toEqual([40, 40]);
  expect(lacks).toEqual([]);
  // Two places up to day 7, and one to the end for the 4 g that are left.
  expect(placeDays).toBe(2 * 8 + 33);
  expect(served(uses.slice(0, 1), [], 0, [], [{ ...bag, rawExtract: 0.6 }]).placeDays).toBe(2 * 41);
});

test("raw grain is taken once it has come, whole for a brew", () => {
  const { home, lacks } = served([9, 10, 11].map((day) => ({ day, needG: 40, material: 1 })), []);
  expect(home).toEqual([0, 40, 0]);
  expect(lacks).toEqual([[0, 40], [2, 40]]);
});
