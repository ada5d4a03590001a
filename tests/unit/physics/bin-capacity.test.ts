import { expect, test } from "vitest";
import { capacityKg, levelVolumeL, peakedVolumeL } from "../../../core/physics/bin-capacity.ts";
import { bushelsFromKg, kgPerHlFromLbPerBu } from "../../../core/physics/bushel.ts";
import { LITRES_PER_BUSHEL, METRES_PER_FOOT } from "../../../core/units.ts";

const FOOT = METRES_PER_FOOT;
const bushelsOf = (volumeL: number) => volumeL / LITRES_PER_BUSHEL;
const within = (value: number, printed: number, part: number) =>
  expect(Math.abs(value / printed - 1)).toBeLessThan(part);

// outside: Iowa Department of Agriculture, Grain Warehouse Bureau, "Measuring grain": diameter x diameter x
// depth x 0.7854 x 0.80385, in feet, are standard bushels. For 40 ft and 30 ft: 30,304.5.
test("outside: a level bin of 40 by 30 ft", () => {
  within(bushelsOf(levelVolumeL(40 * FOOT, 30 * FOOT)), 40 * 40 * 30 * 0.7854 * 0.80385, 0.0005);
});

// outside: the same page: a peak adds a third of its height in bushels a foot; where it was not measured its
// height is 0.4 (corn) or 0.5 (soybeans) of the radius.
test.each([0.4, 0.5])("outside: the peak on a bin, %f of the radius high", (slope) => {
  const bushelsPerFoot = 40 * 40 * 0.7854 * 0.80385;
  const peak = bushelsOf(peakedVolumeL(40 * FOOT, 30 * FOOT, Math.atan(slope) * 180 / Math.PI)) -
    bushelsOf(levelVolumeL(40 * FOOT, 30 * FOOT));
  within(peak, slope * 20 / 3 * bushelsPerFoot, 0.0005);
});

// outside (conversion): University of Minnesota Extension, table A-17: barley at 48 lb a bushel weighs 38.4 lb
// a cubic foot (it takes 1.25 cubic feet for a bushel, 0.45 % too much).
test("outside: a cubic foot of barley", () => {
  const cubicFootL = FOOT ** 3 * 1000;
  within(capacityKg(cubicFootL, kgPerHlFromLbPerBu(48)) / 0.45359237, 38.4, 0.005);
});

test("the demo's bins hold what its page says", () => {
  const bin1L = levelVolumeL(15 * FOOT, 8 * FOOT);
  expect(bushelsOf(bin1L)).toBeCloseTo(1136, 0);
  expect(capacityKg(bin1L, kgPerHlFromLbPerBu(48)) / 1000).toBeCloseTo(24.7, 1);
  // The page prints 23.9, cut off rather than rounded.
  expect(capacityKg(bin1L, kgPerHlFromLbPerBu(46.5)) / 1000).toBeCloseTo(23.96, 2);
  expect(capacityKg(levelVolumeL(9 * FOOT, 10 * FOOT), kgPerHlFromLbPerBu(60)) / 1000).toBeCloseTo(13.9, 1);
});

test("a light lot fills the bin with fewer standard bushels", () => {
  const volumeL = levelVolumeL(18 * FOOT, 16 * FOOT);
  expect(bushelsFromKg(capacityKg(volumeL, kgPerHlFromLbPerBu(50)), "barley")).toBeCloseTo(3408, 0);
  expect(bushelsFromKg(capacityKg(volumeL, kgPerHlFromLbPerBu(45)), "barley")).toBeLessThan(3272);
});

test("impossible bins are refused in words", () => {
  expect(() => levelVolumeL(0, 3)).toThrow("bin diameter");
  expect(() => levelVolumeL(3, NaN)).toThrow("depth of grain");
  expect(() => peakedVolumeL(3, 3, 90)).toThrow("angle of repose");
  expect(() => capacityKg(100, -1)).toThrow("test weight");
});
