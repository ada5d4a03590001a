import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { LineTable } from "../../../core/search/lines.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { type Hurry, Promises } from "../../../core/search/promises.ts";
import type { Supply } from "../../../core/search/supply.ts";

interface Brew {
  day: number;
  needG: number;
  promise: number;
  /** 2 when left out. */
  of?: number;
}

interface Arrival {
  ready: number;
  extractG: number;
  /** Bought, not home-grown. */
  bought?: boolean;
  last?: number;
}

/** Brews of one malt with one line each; `buyable` malt can be had from outside too, so that only promises ask for the farm's. */
function choose(
  brews: readonly Brew[],
  arrivals: readonly Arrival[],
  buyable: boolean,
  { barred = [], crowded = false }: { barred?: number[]; crowded?: boolean } = {},
) {
  const n = brews.length;
  const table = {
    linesOf: brews.map((_, i) => [i]),
    demand: Int32Array.from(brews.keys()),
    material: new Int32Array(n),
    need: Float64Array.from(brews.map((one) => one.needG)),
    least1: Float64Array.from(brews.map((one) => buyable ? 0 : one.needG)),
    claim: new Float64Array(n),
    homeClaim: new Float64Array(n),
    homeable: [true],
    bookG: Float64Array.from(brews.map((one) => one.needG / 0.78)),
    mayPromise: Uint8Array.from(brews, () => 1),
  };
  const problem = {
    materials: [{ index: 0, malt: null, offers: [] }],
    demands: brews.map(({ promise, of = 2 }) => ({ class: of, promise, lines: [] })),
  } as unknown as Problem;
  const supplies = [
    arrivals.map(({ ready, extractG, bought = false, last = 1000 }): Supply => ({
      ...{
        arrives: ready,
        ready,
        last,
        extractG,
        perG: 0.78,
        home: !bought,
        settled: false,
        share: null,
      },
    })),
  ];
  const day = Int32Array.from(brews.map((one) => one.day));
  const status = new Uint8Array(n);
  const order = [...brews.keys()];
  const hurry: Hurry = { barred: Uint8Array.from(brews, (_, i) => barred.includes(i) ? 1 : 0), crowded };
  const promises = new Promises(problem, table as unknown as LineTable, [false]);
  promises.choose(supplies, order, day, status, hurry);
  return { status, claim: table.claim };
}

/** The most brews whose claims, in order of day, the malt that is ready covers: every subset is tried. */
function mostServed(brews: readonly Brew[], claims: readonly number[], arrivals: readonly Arrival[]): number {
  let most = 0;
  for (let chosen = 0; chosen < 1 << brews.length; chosen++) {
    let claimed = 0, count = 0;
    const covered = brews.every(({ day }, i) => {
      if ((chosen & (1 << i)) === 0) return true;
      claimed += claims[i]!;
      count++;
      const ready = arrivals.filter((one) => one.ready <= day).reduce((sum, one) => sum + one.extractG, 0);
      return claimed <= ready + 1;
    });
    if (covered) most = Math.max(most, count);
  }
  return most;
}

const brews = fc.array(
  fc.record({
    day: fc.integer({ min: 1, max: 30 }),
    needG: fc.integer({ min: 1000, max: 60_000 }),
    promise: fc.constantFrom(0.4, 0.5, 0.75, 0.9),
  }),
  { minLength: 1, maxLength: 9 },
).map((list) => list.sort((a, b) => a.day - b.day));
const arrivals = fc.array(
  fc.record({ ready: fc.integer({ min: 0, max: 30 }), extractG: fc.integer({ min: 1000, max: 90_000 }) }),
  { maxLength: 5 },
).map((list) => list.sort((a, b) => a.ready - b.ready));

describe("brews and promises of one malt", () => {
  test("as many brews are made as malt that cannot be bought allows", () => {
    fc.assert(
      fc.property(brews, arrivals, (list, come) => {
        const { status, claim } = choose(list, come, false);
        expect(status.filter((one) => one > 0).length).toBe(
          mostServed(list, list.map((one) => one.needG), come),
        );
        status.forEach((one, i) => expect(claim[i]).toBeCloseTo(one > 0 ? list[i]!.needG : 0, 6));
      }),
      { numRuns: 200, seed: 31 },
    );
  });

  test("as many promises are held as home malt allows, and every brew is made", () => {
    // A promise claims its share of the need and 0.005 % of the grist on top, against rounding.
    const claims = (list: readonly Brew[]) => list.map((one) => one.needG * (one.promise + 5e-5));
    fc.assert(
      fc.property(brews, arrivals, (list, come) => {
        const { status, claim } = choose(list, come, true);
        expect(status.every((one) => one >= 1)).toBe(true);
        expect(status.filter((one) => one === 2).length).toBe(mostServed(list, claims(list), come));
        status.forEach((one, i) => expect(claim[i]).toBeCloseTo(one === 2 ? claims(list)[i]! : 0, 6));
      }),
      { numRuns: 200, seed: 32 },
    );
  });
});

test("bought malt in the store makes brews and keeps no promise", () => {
  const brews = [10, 11].map((day): Brew => ({ day, needG: 100, promise: 1 }));
  const arrivals = [{ ready: 5, extractG: 100 }, { ready: 6, extractG: 100, bought: true }];
  for (const buyable of [true, false]) {
    expect([...choose(brews, arrivals, buyable).status].sort()).toEqual([1, 2]);
  }
  expect([...choose(brews, [{ ready: 5, extractG: 200, bought: true }], true).status]).toEqual([1, 1]);
});

/** A brew with no promise to keep. */
const plain = (day: number, needG: number): Brew => ({ day, needG, promise: 0 });

describe("malt that nobody has claimed by its last day", () => {
  const made = (brews: Brew[], ...arrivals: Arrival[]) => [...choose(brews, arrivals, false).status];

  test("is not there for later brews", () => {
    const brews = [plain(10, 40), plain(20, 50)];
    expect([20, 19].map((last) => made(brews, { ready: 5, extractG: 100, last }))).toEqual([[2, 2], [2, 0]]);
  });

  test("is not to be had by giving up a brew that was made of the same", () => {
    const brews = [plain(10, 60), plain(30, 50), plain(31, 45)];
    const arrivals = [{ ready: 5, extractG: 100, last: 20 }, { ready: 25, extractG: 45 }];
    expect(made(brews, ...arrivals)).toEqual([2, 0, 2]);
  });

  test("keeps no promise, though bought malt is there, and takes nothing from promises already kept", () => {
    const promised = (day: number): Brew => ({ day, needG: 50, promise: 0.9 });
    const [old, bought] = [{ ready: 5, extractG: 100, last: 20 }, { ready: 25, extractG: 100, bought: true }];
    const kept = (brews: Brew[], ...arrivals: Arrival[]) => [...choose(brews, arrivals, true).status];
    const two = [promised(10), promised(30)];
    expect(kept(two, { ...old, last: 30 }, bought)).toEqual([2, 2]);
    expect(kept(two, old, bought)).toEqual([2, 1]);
    const both = [{ ...bought, ready: 4, last: 20 }, old, { ready: 25, extractG: 50 }];
    expect(kept([promised(10), plain(24, 10), promised(30)], ...both)).toEqual([2, 2, 2]);
  });
});

test("a brew that is barred is not made and leaves its malt to others", () => {
  const brews = [plain(10, 60), plain(11, 60)];
  const made = (barred: number[]) =>
    choose(brews, [{ ready: 5, extractG: 60 }], false, { barred }).status.join(" ");
  expect([[0], [1], [0, 1]].map(made)).toEqual(["0 2", "2 0", "0 0"]);
});

test("of unlike brews the one of the lower class goes, though it frees less", () => {
  const made = (...classes: number[]) => {
    const brews = [plain(10, 60), plain(11, 50)].map((brew, i) => ({ ...brew, of: classes[i]! }));
    return [...choose(brews, [{ ready: 5, extractG: 60 }], false).status];
  };
  expect([made(1, 3), made(3, 1)]).toEqual([[2, 0], [0, 2]]);
});

test("of like brews the largest goes, in a crowded malt store the latest", () => {
  const brews = [plain(10, 60), plain(11, 50), plain(12, 40)];
  const made = (crowded: boolean) => [
    ...choose(brews, [{ ready: 5, extractG: 110 }], false, { crowded }).status,
  ];
  expect([false, true].map(made)).toEqual([[0, 2, 2], [2, 2, 0]]);
});
