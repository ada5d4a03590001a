/** Which brews a plan has to answer for, to the day. */
import { expect, test } from "vitest";
import { askedBrews } from "../../../core/audit/calendar-brews.ts";
import { addDays, dayNumber, isoDate } from "../../../core/calendar.ts";
import type { Brew } from "../../../core/season/brewing.ts";
import { handSeason } from "./_hand-season.ts";

const AS_OF = "2027-01-18", HORIZON_END = "2027-04-30", PLAN_END = addDays(HORIZON_END, 84);

/** Asked brews of a calendar of one brew, as `id earliest latest`. */
function asked(on: string, change: Partial<Brew> = {}, recorded = false): string[] {
  const season = handSeason();
  const brew = {
    ...season.brews[0]!,
    id: "b",
    on,
    earliest: addDays(on, -2),
    latest: addDays(on, 2),
    ...change,
  };
  season.brews = [brew];
  season.records.brews = recorded ? [{ ...season.records.brews[0]!, brewId: "b" }] : [];
  const all = askedBrews(season, dayNumber(AS_OF), dayNumber(HORIZON_END), dayNumber(PLAN_END));
  return [...all.values()].map((one) =>
    `${one.id} ${isoDate(one.earliestDay)} ${isoDate(one.latestDay)}${one.tail ? " tail" : ""}`
  );
}

test.each<[string, string[], string[]]>([
  ["its window ends today", asked("2027-01-16"), ["b 2027-01-14 2027-01-18"]],
  ["its window ended yesterday", asked("2027-01-15"), []],
  ["it is wanted on the last day of the horizon", asked(HORIZON_END), ["b 2027-04-28 2027-05-02"]],
  ["it is wanted after the horizon", asked("2027-05-01"), []],
  ["it is recorded", asked("2027-01-18", {}, true), []],
  // 2 May 2026 + 364 days is 1 May 2027, the first day after the horizon; the window may not begin before it.
  ["its repeat is the first of the tail", asked("2026-05-02"), ["tail-b 2027-05-01 2027-05-03 tail"]],
  ["its repeat is the last day of the horizon", asked("2026-05-01"), []],
  ["its repeat is the last of the tail", asked("2026-07-24"), ["tail-b 2027-07-21 2027-07-25 tail"]],
  ["its repeat lies after the tail", asked("2026-07-25"), []],
  ["its repeat counts although it is recorded itself", asked("2026-07-01", {}, true), [
    "tail-b 2027-06-28 2027-07-02 tail",
  ]],
  ["a pilot is not repeated", asked("2026-07-01", { pilot: true }), []],
])("%s", (_, is, should) => {
  expect(is).toEqual(should);
});
