import { expect, test } from "vitest";
import * as dryer from "../../../core/physics/dryer.ts";
import { dryingAir } from "../../../core/physics/drying-air.ts";
import { GRAMS_PER_LB, LITRES_PER_US_GALLON } from "../../../core/units.ts";

// outside: Iowa State University Extension, "LP gas drying estimate" (2004): farm dryers of corn use 0.010 to
// 0.025 gallons of LP gas a bushel (56 lb) and point. Drying from 20 to 15 %, our default must lie inside.
test("outside: LP gas for a bushel and a point of moisture", () => {
  const waterKg = dryer.waterRemovedKg(56 * GRAMS_PER_LB / 1000, 0.20, 0.15);
  const gallons = dryer.fuelL(dryer.dryerHeatMj(waterKg)) / LITRES_PER_US_GALLON / 5;
  expect(gallons).toBeGreaterThan(0.010);
  expect(gallons).toBeLessThan(0.025);
});

test("2,000 Btu a pound and 91,500 Btu a gallon, with a Btu of 1,055.06 J", () => {
  expect(dryer.DRYER_MJ_PER_KG_WATER).toBeCloseTo(2000 * 1055.06 / 453.59237 / 1000, 2);
  expect(dryer.PROPANE_MJ_PER_L).toBeCloseTo(91_500 * 1055.06e-6 / LITRES_PER_US_GALLON, 1);
});

test("1,000 bushels of barley from 18 to 13 %", () => {
  const waterKg = dryer.waterRemovedKg(48_000 * 0.45359237, 0.18, 0.13);
  expect(waterKg / 0.45359237).toBeCloseTo(2758.6, 1);
  expect(dryer.fuelL(dryer.dryerHeatMj(waterKg)) / LITRES_PER_US_GALLON).toBeCloseTo(60.3, 0);
  expect(dryer.dryerHours(waterKg, 125)).toBeCloseTo(waterKg / 125, 12);
});

test("a static dryer of malting barley is held at 100 °F", () => {
  expect(Math.abs(dryer.safeAirTempC("static", 0.18) * 1.8 + 32 - 100)).toBeLessThan(0.5);
  expect(dryer.safeAirTempC("static", 0.30)).toBe(dryer.safeAirTempC("static", 0.14));
});

test("a mixed-flow dryer is held cooler for wetter grain, and never above 65 °C", () => {
  expect(dryer.safeAirTempC("mixed-flow", 0.20)).toBeCloseTo(65, 12);
  expect(dryer.safeAirTempC("mixed-flow", 0.24)).toBeCloseTo(61, 12);
  expect(dryer.safeAirTempC("mixed-flow", 0.15)).toBe(65);
});

test("a fan's hour: 10,000 m³ of warm August air at 38 °C", () => {
  // The same steps with the library psychrolib 1.1.1 (MIT): 68.5 kg.
  const air = dryingAir({ tempC: 22, relativeHumidity: 0.6, altitudeM: 200 }, 38, 0.85);
  expect(dryer.waterKgPerHour(10_000, air.waterKgPerM3)).toBeCloseTo(68.5, 1);
});

test("impossible drying is refused in words", () => {
  expect(() => dryer.safeAirTempC("static", 18)).toThrow("0.18 for 18 %");
  expect(() => dryer.waterRemovedKg(1000, 0.12, 0.14)).toThrow("already drier");
  expect(() => dryer.dryerHours(100, 0)).toThrow("takes off in an hour");
  expect(() => dryer.fuelL(-1)).toThrow("megajoules");
  expect(() => dryer.waterKgPerHour(0, 0.01)).toThrow("cubic metres an hour");
  expect(() => dryer.dryerHeatMj(10, 0)).toThrow("kilogram of water");
});
