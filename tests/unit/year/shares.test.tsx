import { renderToString } from "preact-render-to-string";
import { expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import type { BrewMark } from "../../../core/year/brews-band.ts";
import { beerShares, shareYears } from "../../../core/year/shares.ts";
import { ShareQuestion } from "../../../routes/_pages/question-year.tsx";
import type { Year } from "../../../core/year/year.ts";

const brew = (beerId: string, on: string, homeShare: number, gristG = 100_000, tail = false) =>
  ({ beerId, beerName: beerId, day: dayNumber(on), homeShare, gristG, tail }) as unknown as BrewMark;
const year = {
  brews: [
    brew("pale", "2027-02-01", 1),
    brew("pale", "2027-03-01", 0.4, 300_000),
    brew("pale", "2027-04-01", 0.9),
    brew("amber", "2027-02-05", 0.5),
    brew("amber", "2027-05-05", 1),
    brew("amber", "2026-11-05", 0),
    brew("amber", "2028-02-05", 0, 100_000, true),
    brew("stout", "2027-06-01", 0, 0),
  ],
} as unknown as Year;

test("shares go by weight over a calendar year, the least first; tails and brews that are not made do not count", () => {
  expect(beerShares(year, 2027, null).map((one) => [one.beerId, one.brews, one.share])).toEqual([
    ["pale", 3, 0.62],
    ["amber", 2, 0.75],
  ]);
  expect(shareYears(year)).toEqual([2027, 2026]);
});

test("a share fails from the brew on after which the year never comes back to it", () => {
  const fails = (asked: number) =>
    Object.fromEntries(beerShares(year, 2027, asked).map((one) => [one.beerId, one.failsOn]));
  // Amber begins below and ends at 75 %.
  expect(fails(0.75)).toEqual({ pale: dayNumber("2027-03-01"), amber: null });
  expect(fails(0.8)).toEqual({ pale: dayNumber("2027-03-01"), amber: dayNumber("2027-02-05") });
  expect(fails(0.6)).toEqual({ pale: null, amber: null });
});

test("the page says yes or no in a line, the beers that fail with their day, and asks where no share is given", () => {
  const answer = (share: number | null) =>
    /class="answer">([^<]*)</.exec(
      renderToString(<ShareQuestion year={year} query={new Map()} share={share} />),
    )![1];
  expect(answer(0.6)).toBe("Yes: the lowest, pale, has 62 % in 2027.");
  expect(answer(0.8)).toBe("No: pale from 1 Mar, amber from 5 Feb.");
  expect(answer(null)).toBe("The lowest is pale: 62 % in 2027. Say which share your licence asks for.");
});
