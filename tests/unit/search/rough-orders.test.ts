import { describe, expect, test } from "vitest";
import type { LineTable } from "../../../core/search/lines.ts";
import type { Market } from "../../../core/search/markets.ts";
import type { Deficit } from "../../../core/search/malt-flow.ts";
import type { PlaceCount } from "../../../core/search/place-count.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { RoughOrders } from "../../../core/search/rough-orders.ts";

/** Days from as-of to the plan's end. */
const DAYS = 100;
const PACK_G = 25_000;
/** Extract in a pack. Each need is ordered with 12 g on top. */
const PACK_EXTRACT_G = 20_000;

/** By day: the last one on which the order for it is good. */
const goodFor = (shelfDays: number) => Int16Array.from({ length: DAYS + 2 }, (_, d) => d - d % 5 + shelfDays);

/** A malt in packs of one place each, 10 cents a pack and 7 for the way; orders come on each fifth day. Invented. */
const market = (part: Partial<Market> = {}): Market => ({
  ...{ open: new Uint8Array(DAYS + 2).fill(1) },
  arrived: Int16Array.from({ length: DAYS + 2 }, (_, d) => d - d % 5),
  lastGood: goodFor(365),
  ...{ centsPerExtractG: 10 / PACK_EXTRACT_G, freightCents: 7, leastPacks: 1 },
  ...{ packExtractG: PACK_EXTRACT_G, packG: PACK_G },
  ...part,
});
const offer = (part: object = {}) => ({
  ...{ index: 0, arrivals: [105], shelfDays: 365, leastPacks: 1 },
  ...{ packG: PACK_G, extract: 0.8, packCents: 10 },
  ...part,
});

interface Farm {
  markets?: Market[];
  offers?: object[];
  /** Class of each line's brew. */
  classes?: number[];
}

function ordersOf({ markets = [market(), market()], offers = [offer()], classes = [] }: Farm = {}) {
  const problem = {
    ...{ asOfDay: 100, endDay: 100 + DAYS },
    materials: [{ malt: {}, offers }, { malt: {}, offers }, { malt: null, offers }],
    demands: classes.map((one) => ({ class: one })),
    season: { maltStore: { placeG: PACK_G } },
  } as unknown as Problem;
  const table = { demand: Int32Array.from(classes.keys()) } as unknown as LineTable;
  return new RoughOrders(problem, markets, table);
}

/** The same days for all materials. */
const spans = (days: number) => [days, days, days];

/** Needs on days from as-of, each of a line of its own. */
const needs = (...list: [d: number, extractG: number, bought?: number][]): Deficit[] =>
  list.map(([d, extractG, bought = 0], line) => ({ line, material: 0, bought, day: 100 + d, extractG }));

const sumOf = (list: readonly number[]) => list.reduce((sum, one) => sum + one, 0);

/** A malt store of so many places with nothing else in it; `seen` are the places by day that it was last asked about. */
function storeOf(room: number) {
  const store = {
    placeDays: 0,
    seen: [] as number[],
    over(change: Int16Array) {
      let used = 0;
      store.seen = [...change].map((one) => used += one);
      store.placeDays = sumOf(store.seen);
      return sumOf(store.seen.map((one) => Math.max(0, one - room)));
    },
  };
  return store;
}

describe("orders are made in whole packs", () => {
  const packs = (list: Deficit[], span: number, one: Partial<Market> = {}) =>
    ordersOf({ markets: [market(one), market(one)] }).placed(list, spans(span)).map((order) => order.packs);

  test("as few as cover the needs of their days", () => {
    expect(packs(needs([10, 19_988]), 0)).toEqual([1]);
    expect(packs(needs([10, 19_989]), 0)).toEqual([2]);
    expect(packs(needs([10, 1000]), 0, { leastPacks: 3 })).toEqual([3]);
    const three = needs([10, 39_000], [50, 38_000], [51, 3000]);
    expect(packs(three, 41)).toEqual([5]);
    expect(packs(three, 40)).toEqual([4, 1]);
    expect(packs(three, 0)).toEqual([2, 2, 1]);
  });

  test("and what they hold beyond that serves the needs behind, of the same malt", () => {
    expect(packs(needs([10, 30_000], [60, 9988]), 0)).toEqual([2]);
    expect(packs(needs([10, 30_000], [60, 9989]), 0)).toEqual([2, 1]);
    expect(packs(needs([10, 30_000], [60, 29_000]), 0)).toEqual([2, 1]);
    expect(packs(needs([10, 30_000], [60, 29_000, 1]), 0)).toEqual([2, 2]);
  });

  test("and none is for needs behind the last day on which its malt is good", () => {
    // For a need on day 12 the order comes on day 10 and is good up to day 40.
    const keeps = { lastGood: goodFor(30) };
    expect(packs(needs([12, 18_000], [40, 21_000]), 90, keeps)).toEqual([2]);
    expect(packs(needs([12, 18_000], [41, 21_000]), 90, keeps)).toEqual([1, 2]);
    expect(packs(needs([12, 10_000], [40, 9000]), 0, keeps)).toEqual([1]);
    expect(packs(needs([12, 10_000], [41, 9000]), 0, keeps)).toEqual([1, 1]);
    // Where no order can be there in good time each need has its own, which nobody can place.
    expect(packs(needs([12, 10_000], [14, 9000]), 90, { lastGood: goodFor(-20) })).toEqual([1, 1]);
  });
});

describe("an order is placed", () => {
  const dear = offer({ index: 1, packCents: 9, packG: 10_000, leastPacks: 4 });
  const placed = (list: Deficit[], cheap: object) =>
    ordersOf({ offers: [dear, offer(cheap)] }).placed(list, spans(0))
      .map((one) => [one.offer, one.day, one.packs]);

  test("with the cheapest offer that can arrive and is fresh then, in packs of its own", () => {
    expect(placed(needs([40, 39_000]), { arrivals: [105, 130] })).toEqual([[0, 130, 2]]);
    expect(placed(needs([40, 39_000]), { arrivals: [141] })).toEqual([[1, 105, 5]]);
    expect(placed(needs([40, 39_000]), { arrivals: [130], shelfDays: 9 })).toEqual([[1, 105, 5]]);
    expect(placed(needs([40, 1000]), { arrivals: [141] })).toEqual([[1, 105, 4]]);
  });

  test("with none where none can arrive, and of raw grain by weight", () => {
    expect(placed(needs([4, 1000]), {})).toEqual([]);
    const raw = market({ packExtractG: PACK_G });
    const rawPacks = (needG: number) =>
      ordersOf({ markets: [market(), market(), raw] }).placed(needs([40, needG, 2]), spans(0)).map((one) =>
        one.packs
      );
    expect([rawPacks(24_988), rawPacks(24_989)]).toEqual([[1], [2]]);
  });
});

describe("places", () => {
  /** What a count comes to, and the places it takes on some days, in a malt store of `room` places. */
  function counted(list: Deficit[], days: number[], room = Infinity, one: Partial<Market> = {}) {
    const places = storeOf(room);
    const count = ordersOf({ markets: [market(one), market(one)] }).count(
      list,
      places as unknown as PlaceCount,
    );
    return { ...count, used: days.map((day) => places.seen[day]) };
  }

  test("are taken from the arrival, and given back as the packs are used up", () => {
    const { used, ordersCents } = counted(needs([12, 39_988], [20, 19_976]), [9, 10, 11, 12, 19, 20, 100]);
    expect(used).toEqual([0, 3, 3, 2, 2, 1, 1]);
    expect(ordersCents).toBeCloseTo(3 * 10 + 7, 9);
  });

  test("of what an order leaves are the next one's from its first use on", () => {
    // Of two packs 15,000 g of malt are left; with the pack of day 90 they last for both later needs.
    const list = needs([12, 28_000], [92, 12_000], [95, 18_000]);
    expect(counted(list, [10, 12, 90, 92, 95], 2).used).toEqual([2, 1, 2, 1, 1]);
  });

  test("of what spoils are taken to the end", () => {
    const list = needs([12, 28_000], [92, 12_000]);
    expect(counted(list, [10, 12, 90, 92], 2, { lastGood: goodFor(30) }).used).toEqual([2, 1, 2, 2]);
  });

  test("are had by smaller orders where large ones overfill the malt store, which it least does else", () => {
    const year = needs([12, 19_000], [32, 19_000], [77, 19_000]);
    const counts = [3, 2, 1].map((room) => counted(year, [], room));
    expect(counts.map((one) => [one.spans[0], one.placesOver])).toEqual([[180, 0], [40, 0], [8, 4]]);
    // 3 places for 22 days, 2 for 45, 1 for 25; then 2 for 24, 1 for 68; then 2 for 4, 1 for 88.
    expect(counts.map((one) => one.placeDays)).toEqual([181, 116, 96]);
  });
});

describe("where a store is too small for large orders of all malts", () => {
  /** One malt that takes three places and one, and one that takes one and one. */
  const list = needs([12, 59_000], [77, 19_000], [12, 19_000, 1], [77, 19_000, 1]);
  const counted = (room: number) => {
    const places = storeOf(room);
    const orders = ordersOf();
    const count = orders.count(list, places as unknown as PlaceCount);
    const packs = orders.placed(list, count.spans).map((one) => one.packs);
    return { packs, count, placeDays: sumOf(places.seen), most: Math.max(...places.seen) };
  };

  test("those of a malt may be large all the same, as the room beside the others allows", () => {
    const counts = [6, 5, 4].map(counted);
    expect(counts.map((one) => one.packs)).toEqual([[4, 2], [4, 1, 1], [3, 1, 1, 1]]);
    expect(counts.map((one) => one.most)).toEqual([6, 5, 4]);
    for (const { count, packs, placeDays } of counts) {
      expect(count.placesOver).toBe(0);
      expect(count.ordersCents).toBeCloseTo(6 * 10 + packs.length * 7, 9);
      expect(count.placeDays).toBe(placeDays);
    }
  });
});

describe("where the orders do not fit, one is given up", () => {
  /** Brews that go, in a malt store with so much room left by day. */
  const given = (classes: number[], list: Deficit[], room: (d: number) => number) => {
    const places = { roomByDay: () => Array.from({ length: DAYS + 1 }, (_, d) => room(d)) };
    return [...ordersOf({ classes }).crowding(list, places as unknown as PlaceCount, spans(0))];
  };

  test("the one that gives least for its places", () => {
    const like = needs([22, 19_000], [22, 19_000, 1]);
    expect(given([1, 3], like, () => 2)).toEqual([]);
    expect(given([1, 3], like, () => 1)).toEqual([1]);
    expect(given([3, 1], like, () => 1)).toEqual([0]);
    // A brew of the first class counts for four of the third, and these packs for five.
    expect(given([1, 3], needs([22, 99_000], [22, 19_000, 1]), () => 5)).toEqual([0]);
    expect(given([1, 3], needs([22, 59_000], [22, 19_000, 1]), () => 3)).toEqual([1]);
  });

  test("with all that it is for, and no more of them than it takes", () => {
    const list = needs([22, 9000], [22, 9000], [22, 19_000, 1]);
    expect(given([3, 3, 1], list, () => 1)).toEqual([0, 1]);
    expect(given([3, 3, 1], list, () => 0)).toEqual([0, 1, 2]);
  });

  test("on the days it lies there, and not for days on which home malt alone is over", () => {
    const list = needs([22, 19_000]);
    expect(given([1], list, (d) => d < 20 ? 0 : 1)).toEqual([]);
    expect(given([1], list, (d) => d === 21 ? 0 : 1)).toEqual([0]);
    expect(given([1], list, (d) => d === 20 || d === 21 ? -1 : 1)).toEqual([]);
  });
});
