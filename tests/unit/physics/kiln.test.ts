import { expect, test } from "vitest";
import { dryingAir } from "../../../core/physics/drying-air.ts";
import * as kiln from "../../../core/physics/kiln.ts";
import { maltingBalance } from "../../../core/physics/malting-balance.ts";

const TONNE = { maltDmKg: 950, maltKg: 1000, culmsDmKg: 38, culmsKg: 40 };
const SPRING = { tempC: 10, relativeHumidity: 0.8, altitudeM: 0 };
const WINTER = { tempC: 0, relativeHumidity: 0.8, altitudeM: 0 };
const SUMMER = { tempC: 25, relativeHumidity: 0.6, altitudeM: 0 };

// outside: Maltsters' Association of Great Britain, malt facts: 750 kWh of gas for a tonne of malt. Nearly all of
// it goes to the kiln. From green malt of 43 %, at the 60 to 65 °C of "Cereals Processing Technology" (p. 195) and
// spring air, free drying must come to about that; 15 % covers the cure, boilers and heat recovery, which pull
// both ways.
test("outside: the gas for a tonne of malt", () => {
  const waterKg = kiln.kilnWaterKg(TONNE, 0.43);
  for (const airOnC of [60, 65]) {
    expect(Math.abs(kiln.kilnHeatKWh(waterKg, dryingAir(SPRING, airOnC)) / 750 - 1)).toBeLessThan(0.15);
  }
});

test("water from green malt to a tonne of malt and its culms", () => {
  const rows = [[0.45, 1796, 756], [0.43, 1733, 693], [0.40, 1647, 607]] as const;
  for (const [moisture, green, water] of rows) {
    expect(kiln.greenMaltKg(TONNE, moisture)).toBeCloseTo(green, 0);
    expect(Math.abs(kiln.kilnWaterKg(TONNE, moisture) - water)).toBeLessThan(1);
  }
});

test("a run's own balance goes in as it is", () => {
  const losses = { steepLossDm: 0.01, respirationLossDm: 0.05, rootletLossDm: 0.04 };
  const run = maltingBalance(1000, {
    ...losses,
    moistureWb: 0.12,
    screeningLoss: 0,
    maltMoistureWb: 0.05,
    culmMoistureWb: 0.05,
  });
  const green = 880 * (1 - 0.06) / 0.56;
  expect(kiln.greenMaltKg(run, 0.44)).toBeCloseTo(green, 9);
  expect(kiln.kilnWaterKg(run, 0.44)).toBeCloseTo(green - 880 * 0.94 / 0.95, 9);
});

test("winter air asks for more heat, summer air for more hours", () => {
  const hours = (air: typeof SPRING) => kiln.freeDryingHours(650, 4500, dryingAir(air, 60));
  expect(hours(SPRING)).toBeCloseTo(8.3, 1);
  expect(hours(WINTER)).toBeCloseTo(7.5, 1);
  expect(hours(SUMMER)).toBeCloseTo(9.6, 1);
  expect(kiln.kilnHeatKWh(700, dryingAir(WINTER, 60))).toBeCloseTo(793, 0);
  expect(kiln.kilnHeatKWh(700, dryingAir(SUMMER, 60))).toBeCloseTo(541, 0);
});

test("each month's hours beyond the quickest", () => {
  const extra = kiln.extraKilnHoursByMonth(650, 4500, 60, [WINTER, SPRING, SUMMER]);
  expect(extra[0]).toBe(0);
  expect(extra[1]).toBeCloseTo(0.72, 1);
  expect(extra[2]).toBeCloseTo(2.07, 1);
});

test("impossible kilns are refused in words", () => {
  expect(() => kiln.kilnWaterKg(TONNE, 0.04)).toThrow("green malt must be wetter");
  expect(() => kiln.freeDryingHours(100, 0, dryingAir(SPRING, 60))).toThrow("cubic metres an hour");
  expect(() => kiln.kilnHeatKWh(-1, dryingAir(SPRING, 60))).toThrow("water in kilograms");
});
