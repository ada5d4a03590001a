import { expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { firstMaltingDay } from "../../../core/physics/dormancy.ts";

const HARVEST = dayNumber("2026-08-12");
const REST = { early: 21, likely: 42, late: 60 };
const on = (date: string, germinativeEnergy: number) => ({ day: dayNumber(date), germinativeEnergy });
const spread = (early: string, likely: string, late: string) => ({
  early: dayNumber(early),
  likely: dayNumber(likely),
  late: dayNumber(late),
});

test("without a test the rest after harvest decides", () => {
  expect(firstMaltingDay(HARVEST, [], 0.95, REST)).toEqual({
    ...spread("2026-09-02", "2026-09-23", "2026-10-11"),
    basis: "rest days",
  });
});

test("the demo's lot B sleeps until its second test", () => {
  const results = [on("2026-10-12", 0.96), on("2026-09-01", 0.71)];
  const day = dayNumber("2026-10-12");
  expect(firstMaltingDay(HARVEST, results, 0.95, REST)).toEqual({
    early: day,
    likely: day,
    late: day,
    basis: "measured",
  });
});

test("a failed test pushes the rest behind it", () => {
  expect(firstMaltingDay(HARVEST, [on("2026-10-01", 0.8)], 0.95, REST)).toEqual({
    ...spread("2026-10-02", "2026-10-02", "2026-10-11"),
    basis: "rest days",
  });
});

test("a pass exactly at the threshold wakes the lot, a later failure takes it back", () => {
  expect(firstMaltingDay(HARVEST, [on("2026-09-14", 0.95)], 0.95, REST).basis).toBe("measured");
  const relapse = [on("2026-09-14", 0.97), on("2026-11-01", 0.9)];
  expect(firstMaltingDay(HARVEST, relapse, 0.95, REST)).toEqual({
    ...spread("2026-11-02", "2026-11-02", "2026-11-02"),
    basis: "rest days",
  });
  expect(firstMaltingDay(HARVEST, [...relapse, on("2026-12-01", 0.96)], 0.95, REST).early)
    .toBe(dayNumber("2026-12-01"));
});

test("impossible thresholds and rests are refused in words", () => {
  expect(() => firstMaltingDay(HARVEST, [], 95, REST)).toThrow("0.95 for 95 %");
  expect(() => firstMaltingDay(HARVEST, [], 0.95, { early: 40, likely: 30, late: 60 })).toThrow(
    "early, likely, late",
  );
});
