import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addDays, dayNumber, weekday } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import type { Brew } from "../../../core/season/brewing.ts";
import type { Season } from "../../../core/season/season.ts";
import { allBrewsToPlan, planEndDay, tailBrews } from "../../../core/season/tail.ts";

const base: Season = { ...microSeason(2), horizonEnd: "2028-01-02", asOf: "2027-01-18T06:00" };
const end = dayNumber(base.horizonEnd);
const brewOn = (on: string, more: Partial<Brew> = {}): Brew => ({
  id: "brew",
  beerId: "beer-one",
  on,
  earliest: on,
  latest: on,
  class: 1,
  pilot: false,
  ...more,
});
const tailOf = (...brews: Brew[]) => tailBrews({ ...base, brews });

describe("the tail", () => {
  test("ends twelve weeks after the horizon", () => {
    expect(planEndDay(base) - end).toBe(84);
  });

  test("takes the brews of the twelve weeks 52 weeks before it, both ends counted right", () => {
    const fromEnd = (days: number) => addDays(base.horizonEnd, days - 364);
    expect(tailOf(brewOn(fromEnd(0)))).toEqual([]);
    expect(tailOf(brewOn(fromEnd(1)))[0]).toMatchObject({ id: "tail-brew", on: addDays(base.horizonEnd, 1) });
    expect(tailOf(brewOn(fromEnd(84)))).toHaveLength(1);
    expect(tailOf(brewOn(fromEnd(85)))).toEqual([]);
  });

  test("moves the window with the brew, but never before the horizon is over", () => {
    const on = addDays(base.horizonEnd, 2 - 364);
    const [moved] = tailOf(brewOn(on, { earliest: addDays(on, -5), latest: addDays(on, 4) }));
    expect(moved).toMatchObject({
      earliest: addDays(base.horizonEnd, 1),
      latest: addDays(base.horizonEnd, 6),
    });
  });

  test("repeats no pilot brew", () => {
    expect(tailOf(brewOn(addDays(base.horizonEnd, -300), { pilot: true }))).toEqual([]);
  });

  test("keeps the weekday and lies inside its weeks", () => {
    fc.assert(fc.property(fc.integer({ min: -500, max: 0 }), (days) => {
      const brew = brewOn(addDays(base.horizonEnd, days));
      for (const repeat of tailOf(brew)) {
        expect(weekday(dayNumber(repeat.on))).toBe(weekday(dayNumber(brew.on)));
        expect(dayNumber(repeat.on) - end).toBeGreaterThan(0);
        expect(dayNumber(repeat.on) - end).toBeLessThanOrEqual(84);
      }
    }));
  });
});

describe("what is asked of a plan", () => {
  const asked = (season: Season) => allBrewsToPlan(season, season.asOf).map((brew) => brew.id);

  test("brews whose window is not over and that nobody has recorded, then the tail", () => {
    const today = "2027-01-18";
    const brews = [
      brewOn(addDays(today, -1), { id: "over" }),
      brewOn(addDays(today, -3), { id: "last-day", latest: today }),
      brewOn(addDays(today, 10), { id: "recorded" }),
      brewOn(addDays(today, 30), { id: "open" }),
    ];
    const done = { brewId: "recorded", on: today, tanks: [{ tankId: "tank-one", volumeL: 500 }], grist: [] };
    const season = { ...base, brews, records: { ...base.records, brews: [done] } };
    expect(asked(season)).toEqual([
      "last-day",
      "open",
      "tail-over",
      "tail-last-day",
      "tail-recorded",
      "tail-open",
    ]);
  });
});
