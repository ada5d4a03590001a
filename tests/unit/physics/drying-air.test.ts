import { expect, test } from "vitest";
import { dryingAir } from "../../../core/physics/drying-air.ts";
import { equilibriumHumidity } from "../../../core/physics/equilibrium.ts";
import { volumeM3PerKg } from "../../../core/physics/moist-air.ts";
import { waterRemovedKg } from "../../../core/physics/dryer.ts";
import { GRAMS_PER_LB, METRES_PER_FOOT } from "../../../core/units.ts";

const celsius = (tempF: number) => (tempF - 32) / 1.8;
const outside = (tempF: number, relativeHumidity: number) => ({
  tempC: celsius(tempF),
  relativeHumidity,
  altitudeM: 0,
});

// outside: North Dakota State University Extension, natural-air drying concepts: 100,000 lb of air of 47 °F and
// 70 % take about 70 lb of water from corn of 21 %. Such corn lets air go at 93 % (modified Chung-Pfost, corn,
// constants from memory). No heat is lost here, so the printed figure must lie below, by a fifth at most. The
// same page's January case, 9 lb at 7 °F, is not reached: below freezing this model is far too hopeful.
test("outside: what cool autumn air takes out of damp corn", () => {
  const air = dryingAir(outside(47, 0.7), celsius(47), 0.93);
  const volumeM3 = 100_000 * GRAMS_PER_LB / 1000 * volumeM3PerKg(celsius(47), 0.0047, 101_325);
  const waterLb = air.waterKgPerM3 * volumeM3 * 1000 / GRAMS_PER_LB;
  expect(70 / waterLb).toBeGreaterThan(0.8);
  expect(70 / waterLb).toBeLessThan(1);
});

// outside: North Dakota State University Extension, drying wheat in cool, late harvests (2009): wheat dries from
// 18 to 13 % in 35 days with 0.75 cubic feet a minute for each bushel of 60 lb, of air of 62 °F and 56 %.
test("outside: the days that wheat takes to dry in a bin with unheated air", () => {
  const leaving = equilibriumHumidity("wheat", 12, 0.18);
  const air = dryingAir(outside(62, 0.56), celsius(62), leaving);
  const airM3PerDay = 0.75 * METRES_PER_FOOT ** 3 * 60 * 24;
  const days = waterRemovedKg(60 * GRAMS_PER_LB / 1000, 0.18, 0.13) / (airM3PerDay * air.waterKgPerM3);
  expect(days / 35).toBeGreaterThan(0.8);
  expect(days / 35).toBeLessThan(1);
});

test("air of three seasons heated to 60 °C", () => {
  // The same steps with the library psychrolib 1.1.1 (MIT): grams a cubic metre, kWh a kilogram, leaving °C.
  const rows = [[0, 0.8, 19.140, 1.1329, 23.99], [10, 0.8, 17.479, 0.9980, 26.00], [
    25,
    0.6,
    15.023,
    0.7730,
    29.37,
  ]] as const;
  for (const [tempC, relativeHumidity, grams, kWh, leavingC] of rows) {
    const air = dryingAir({ tempC, relativeHumidity, altitudeM: 0 }, 60);
    expect(air.waterKgPerM3 * 1000).toBeCloseTo(grams, 2);
    expect(air.heatKWhPerKgWater).toBeCloseTo(kWh, 3);
    expect(air.airOffC).toBeCloseTo(leavingC, 2);
  }
});

test("thinner air carries less a cubic metre", () => {
  const high = dryingAir({ ...outside(68, 0.6), altitudeM: 1500 }, 60);
  expect(high.waterKgPerM3).toBeLessThan(dryingAir(outside(68, 0.6), 60).waterKgPerM3);
});

test("air that cannot dry is refused in words", () => {
  expect(() => dryingAir(outside(68, 0.6), 10)).toThrow("outside air is the least");
  expect(() => dryingAir(outside(68, 0.97), 20)).toThrow("humidity at which the air leaves");
  expect(() => dryingAir(outside(68, 65), 60)).toThrow("0.65 for 65 %");
});
