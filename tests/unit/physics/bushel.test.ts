import { expect, test } from "vitest";
import * as bushel from "../../../core/physics/bushel.ts";

// outside (conversion): University of Minnesota Extension, table A-17 (WW-00469): barley 48, wheat 60, rye
// 56, oats 32 lb a bushel, and US Grains Council, conversion factors: 45.93, 36.744, 39.368 bushels a tonne.
test("outside: standard bushels in a tonne", () => {
  expect(bushel.bushelsFromKg(1000, "barley")).toBeCloseTo(45.93, 2);
  expect(bushel.bushelsFromKg(1000, "wheat")).toBeCloseTo(36.744, 3);
  expect(bushel.bushelsFromKg(1000, "rye")).toBeCloseTo(39.368, 3);
  expect(bushel.kgFromBushels(1, "oats") * 1000 / 453.59237).toBeCloseTo(32, 9);
});

// outside (conversion): US Grains Council: bushels an acre times 0.5380, 0.6725, 0.6277 (barley, wheat, rye)
// are quintals of 100 kg a hectare.
test("outside: bushels an acre to tonnes a hectare", () => {
  expect(bushel.kgPerHaFromBuPerAc(1, "barley")).toBeCloseTo(53.80, 2);
  expect(bushel.kgPerHaFromBuPerAc(1, "wheat")).toBeCloseTo(67.25, 2);
  expect(bushel.kgPerHaFromBuPerAc(1, "rye")).toBeCloseTo(62.77, 2);
});

// outside (conversion): Canadian Grain Commission, test weight charts: grams in half a litre times 0.1552 are
// pounds a Winchester bushel. 335 g in half a litre is 67 kg/hl.
test("outside: kilograms a hectolitre to pounds a Winchester bushel", () => {
  expect(Math.abs(bushel.lbPerBuFromKgPerHl(67) / (335 * 0.1552) - 1)).toBeLessThan(0.0015);
});

test("test weight goes there and back", () => {
  expect(bushel.kgPerHlFromLbPerBu(48)).toBeCloseTo(61.785, 3);
  expect(bushel.lbPerBuFromKgPerHl(bushel.kgPerHlFromLbPerBu(46.5))).toBeCloseTo(46.5, 10);
});

test("the demo's winter barley: 18 acres at 62 bushels are 24.30 t", () => {
  expect(bushel.kgFromBushels(18 * 62, "barley")).toBeCloseTo(24_298, 0);
});

test("impossible weights are refused in words", () => {
  expect(() => bushel.kgPerHlFromLbPerBu(0)).toThrow(
    "test weight in pounds a bushel must be a number above zero",
  );
  expect(() => bushel.bushelsFromKg(-1, "rye")).toThrow(RangeError);
});
