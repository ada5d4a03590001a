import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CellarBatch } from "../../../core/search/cellar.ts";
import { placesOver, reserveCents, type Taking } from "../../../core/search/money.ts";
import type { Problem } from "../../../core/search/problem.ts";

const END = 40;
const HORIZON = 29;
const PLACE_G = 50;

/** One malt with a floor; a gram-day under it costs a cent. The day of as-of is day 0. */
const problemWith = (floorG: number, places = 1) =>
  ({
    ...{ asOfDay: 0, freeDay: 3, horizonDay: HORIZON, endDay: END },
    materials: [{ index: 0, malt: {}, floorG }],
    season: { maltStore: { places, placeG: PLACE_G }, costs: { reservePerTonneDayCents: 1e6 } },
  }) as unknown as Problem;

const stocks = fc.array(
  fc.record({
    arrives: fc.integer({ min: -5, max: END }),
    rest: fc.integer({ min: 0, max: 6 }),
    life: fc.integer({ min: 0, max: 25 }),
    massG: fc.integer({ min: 1, max: 200 }),
    /** Days after it is ready and parts of what is left, for each use. */
    uses: fc.array(fc.tuple(fc.integer({ min: 0, max: 20 }), fc.double({ min: 0, max: 1, noNaN: true })), {
      maxLength: 3,
    }),
    settled: fc.boolean(),
  }),
  { maxLength: 4 },
).map((list) => {
  const batches: CellarBatch[] = [], takings: Taking[] = [];
  list.forEach(({ arrives, rest, life, massG, uses, settled }, i) => {
    const ready = arrives + rest, last = ready + life;
    const batch = { id: `b${i}`, key: `run ${i} 0`, material: 0, arrives, ready, last, massG, settled };
    batches.push(batch as CellarBatch);
    let leftG = massG;
    for (const [after, part] of uses) {
      const day = Math.max(1, ready + after), takenG = Math.floor(leftG * part);
      if (day > last || takenG === 0) continue;
      leftG -= takenG;
      takings.push({ batch: batch as CellarBatch, day, massG: takenG });
    }
  });
  return { batches, takings };
});
type Stocks = { batches: CellarBatch[]; takings: Taking[] };

/** What is left of a batch at the end of a day. */
const leftOf = ({ takings }: Stocks, batch: CellarBatch, day: number) =>
  takings.reduce((left, one) => one.batch === batch && one.day <= day ? left - one.massG : left, batch.massG);

describe("books kept day by day", () => {
  test("price what ready malt lacks to its floor at the end of each day after as-of, to the horizon", () => {
    fc.assert(
      fc.property(stocks, fc.integer({ min: 1, max: 150 }), (stock, floorG) => {
        let short = 0;
        for (let day = 1; day <= HORIZON; day++) {
          const ready = stock.batches.filter((one) =>
            one.arrives <= day && one.ready <= day && day <= one.last
          );
          const held = ready.reduce((sum, one) => sum + leftOf(stock, one, day), 0);
          short += Math.max(0, floorG - held);
        }
        expect(reserveCents(problemWith(floorG), stock.batches, stock.takings)).toBeCloseTo(short, 6);
      }),
      { numRuns: 300, seed: 51 },
    );
  });

  test("count places over the limit on days on which something lies there that was not settled before", () => {
    fc.assert(
      fc.property(stocks, fc.integer({ min: 0, max: 6 }), (stock, places) => {
        const placesOf = (list: readonly CellarBatch[], day: number) =>
          list.filter((one) => one.arrives <= day)
            .reduce((sum, one) => sum + Math.ceil(Math.max(0, leftOf(stock, one, day)) / PLACE_G), 0);
        const settled = stock.batches.filter((one) => one.settled);
        const allowed = Math.max(places, placesOf(settled, 0));
        const days: number[] = [];
        let over = 0;
        for (let day = 0; day <= END; day++) {
          const used = placesOf(stock.batches, day);
          if (used <= allowed || used === placesOf(settled, day)) continue;
          days.push(day);
          over += used - allowed;
        }
        const found = placesOver(problemWith(0, places), stock.batches, stock.takings);
        expect([found.placeDays, found.days]).toEqual([over, days]);
      }),
      { numRuns: 300, seed: 52 },
    );
  });
});
