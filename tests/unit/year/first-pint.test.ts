import { expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import type { Season } from "../../../core/season/season.ts";
import { firstPint, newestHarvest } from "../../../core/year/first-pint.ts";
import { traceOf } from "../../../core/year/trace.ts";
import { demoSeason } from "../../_support/demo.ts";
import { drawnYear } from "../../_support/drawn-year.ts";

const season = demoSeason();
const plan = await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null });
const year = drawnYear(season, plan);
const fields = new Set(
  year.fields.plantings.filter((one) => one.harvestYear === 2027).map((one) => one.node),
);
const hasNew = (node: string) => [...traceOf(year, node).nodes].some((id) => fields.has(id));

test("the first pint is of the first brew out of its tank that has grain of the newest harvest in it", () => {
  expect(newestHarvest(season)).toBe(2027);
  const pint = firstPint(season, year)!;
  expect(hasNew(pint.brew.node)).toBe(true);
  expect(pint.day).toBe(pint.brew.packagedDay);
  const before = year.brews.filter((one) => one.gristG > 0 && one.packagedDay < pint.day);
  expect(before.length).toBeGreaterThan(50);
  expect(before.filter((one) => hasNew(one.node)).map((one) => one.id)).toEqual([]);
  expect(pint.early).toBeLessThanOrEqual(pint.day);
  expect(pint.late).toBeGreaterThanOrEqual(pint.day);
});

test("a later harvest at the latest makes the latest day later, and no other", () => {
  const later = (days: number): Season => ({
    ...season,
    plantings: season.plantings.map((one) =>
      one.harvestYear === 2027
        ? { ...one, harvest: { ...one.harvest, late: addDays(one.harvest.late, days) } }
        : one
    ),
  });
  const pint = firstPint(season, year)!, put = firstPint(later(100), year)!;
  expect(put.late - pint.late).toBeGreaterThan(60);
  expect([put.day, put.early]).toEqual([pint.day, pint.early]);
});

test("nothing is told before there is a plan, or where nothing is sown", () => {
  expect(firstPint(season, drawnYear(season, null))).toBe(null);
  expect(newestHarvest({ ...season, plantings: [] })).toBe(null);
});
