import { expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import type { ExplainedRemedy } from "../../../core/explain/explanation.ts";
import { additionsOf, paybackWords } from "../../../core/explain/payback.ts";
import { demoSeason } from "../../_support/demo.ts";

const season = demoSeason();
const remedy = (id: string, moneyCents: number, costCents: number | null = null) =>
  ({ id, moneyCents, costCents }) as unknown as ExplainedRemedy;
/** Half a year before the plan's end, which lies twelve weeks past the last day shown. */
const asOf = `${addDays(season.horizonEnd, 84 - 183)}T07:00`;

test("money of half a year is doubled, and a price comes back in so many years of it", () => {
  const [kiln] = additionsOf(
    season,
    asOf,
    [remedy("more-kiln-1", 100_000)],
    new Map([["more-kiln-1", 500_000]]),
  );
  expect(kiln!.yearlyCents).toBeCloseTo(199_590, -2);
  expect(paybackWords(kiln!.paybackYears)).toBe("2.5 years");
});

test("without a price nothing is said; what brings no money, or costs nothing, is said to", () => {
  const rows = additionsOf(
    season,
    asOf,
    [
      remedy("more-bin", 0),
      remedy("more-tank-1", 100),
      remedy("work-days-2", 5000, 0),
      remedy("buy-grain-2", 9000),
    ],
    new Map([["more-bin", 100]]),
  );
  expect(rows.map(({ remedy, paybackYears }) => [remedy.id, paybackWords(paybackYears)])).toEqual([
    ["more-bin", "not in money"],
    ["more-tank-1", ""],
    ["work-days-2", "at once"],
  ]);
});
