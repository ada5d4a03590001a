import { expect, test } from "vitest";
import { reservesOf } from "../../../core/explain/reserve.ts";
import { reserveWords } from "../../../core/explain/words.ts";
import type { MaltRow } from "../../../core/year/malt-band.ts";
import type { Year } from "../../../core/year/year.ts";
import { demoSeason } from "../../_support/demo.ts";

const row = (maltId: string | null, floorG: number, readyHomeG: number[], readyBoughtG: number[]) =>
  ({ maltId, name: "Pale malt", floorG, readyHomeG, readyBoughtG }) as unknown as MaltRow;
const year = (rows: MaltRow[]) =>
  ({ malt: { rows }, asOf: 100.5, firstDay: 98, lastDay: 108 }) as unknown as Year;

test("a malt's reserve counts home and bought malt from as-of on, by day and week", () => {
  const home = [0, 0, 5, 4, 3, 2, 9, 9, 9, 6, 6].map((kg) => kg * 1e5);
  const bought = [0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 2].map((kg) => kg * 1e5);
  const [one, ...others] = reservesOf(year([row("pale", 4e5, home, bought), row(null, 4e5, home, bought)]));
  expect(others).toEqual([]);
  expect(one).toMatchObject({ leastDay: 103, leastG: -2e5 });
  expect(one!.weeks).toEqual([{ firstDay: 100, leastG: -2e5 }, { firstDay: 107, leastG: 2e5 }]);
  const metric = { ...demoSeason(), readerUnits: "metric" as const };
  expect(reserveWords(metric, one!)).toBe("pale: least on 14 Apr, 200 kg below its reserve of 400 kg");
});

test("a malt without a floor has none", () => {
  expect(reservesOf(year([row("pale", 0, [], [])]))).toEqual([]);
});
