import fc from "fast-check";
import { expect, test } from "vitest";
import { coldVolumeL, compoundedLoss, packagedL, pints } from "../../../core/physics/glass.ts";
import { LITRES_PER_US_BARREL } from "../../../core/units.ts";

test("losses are multiplied, not added", () => {
  // Stages of 0.5 to 2, 4 to 6, 1 to 3 and 1 to 3 %: printed sums 6.5 and 14, in truth 6.4 and 13.3.
  expect(compoundedLoss([0.005, 0.04, 0.01, 0.01])).toBeCloseTo(0.064, 3);
  expect(compoundedLoss([0.02, 0.06, 0.03, 0.03])).toBeCloseTo(0.133, 3);
  expect(compoundedLoss([])).toBe(0);
  const loss = fc.double({ min: 0, max: 0.3, noNaN: true });
  fc.assert(fc.property(loss, loss, (a, b) => {
    expect(compoundedLoss([a, b])).toBeLessThanOrEqual(a + b + 1e-12);
    expect(compoundedLoss([a, b])).toBeCloseTo(compoundedLoss([b, a]), 12);
  }));
});

test("wort shrinks on cooling", () => {
  expect(coldVolumeL(1000)).toBeCloseTo(960, 9);
  expect(coldVolumeL(1000, 0.035)).toBeCloseTo(965, 9);
});

test("the demo's year: 1,568 barrels in tank are 350,000 pints", () => {
  const beerL = packagedL(1568 * LITRES_PER_US_BARREL, [0.1]);
  expect(beerL / 100).toBeCloseTo(1656, 0);
  expect(Math.abs(pints(beerL, "us") - 350_000)).toBeLessThan(100);
});

test("pints differ by country", () => {
  expect(pints(LITRES_PER_US_BARREL, "us")).toBeCloseTo(248, 9);
  expect(pints(163.65924, "metric")).toBeCloseTo(288, 9);
});

test("impossible volumes are refused in words", () => {
  expect(() => packagedL(-1, [])).toThrow("volume in litres");
  expect(() => packagedL(100, [1])).toThrow("loss of volume");
  expect(() => pints(NaN, "us")).toThrow("volume of beer");
});
