import fc from "fast-check";
import { expect, test } from "vitest";
import * as units from "../../core/units.ts";

const AMOUNT = fc.double({ min: 0, max: 1e9, noNaN: true });

test("factors hang together by their definitions", () => {
  const litresPerCubicInch = 0.0254 ** 3 * 1000;
  expect(units.LITRES_PER_BUSHEL).toBeCloseTo(2150.42 * litresPerCubicInch, 10);
  expect(units.LITRES_PER_US_GALLON).toBeCloseTo(231 * litresPerCubicInch, 12);
  expect(units.LITRES_PER_US_PINT * 8).toBeCloseTo(units.LITRES_PER_US_GALLON, 12);
  expect(units.LITRES_PER_UK_BARREL).toBeCloseTo(36 * units.LITRES_PER_IMPERIAL_GALLON, 10);
  expect(units.LITRES_PER_IMPERIAL_PINT * 8).toBeCloseTo(units.LITRES_PER_IMPERIAL_GALLON, 12);
  expect(units.SQUARE_METRES_PER_ACRE).toBeCloseTo(43_560 * units.METRES_PER_FOOT ** 2, 9);
});

// outside (conversion): 27 CFR 25.11, a barrel is 31 US gallons, so 248 US pints; half 15.5 gallons = 165 x
// 12 oz.
test("outside: a US beer barrel is 31 gallons", () => {
  expect(units.LITRES_PER_US_BARREL / units.LITRES_PER_US_GALLON).toBeCloseTo(31, 9);
  expect(units.LITRES_PER_US_BARREL / units.LITRES_PER_US_PINT).toBeCloseTo(248, 9);
});

// outside (conversion): Maltsters' Association of Great Britain, malt facts: a tonne of malt makes 54
// barrels, printed as 8,837 litres. A US barrel in its place would give 6,337 litres.
test("outside: 54 UK barrels are 8,837 litres", () => {
  expect(54 * units.LITRES_PER_UK_BARREL).toBeGreaterThan(8836.5);
  expect(54 * units.LITRES_PER_UK_BARREL).toBeLessThan(8838);
});

test("conversions and their inverses meet", () => {
  fc.assert(fc.property(AMOUNT, (amount) => {
    expect(units.gFromLb(units.lbFromG(amount))).toBeCloseTo(amount, 5);
    expect(units.acresFromM2(amount) * units.SQUARE_METRES_PER_ACRE).toBeCloseTo(amount, 5);
    expect(units.usBarrelsFromL(amount) * units.LITRES_PER_US_BARREL).toBeCloseTo(amount, 5);
    expect(units.tempCFromF(amount * 9 / 5 + 32)).toBeCloseTo(amount, 5);
  }));
  expect(units.gFromLb(48)).toBeCloseTo(21_772.43376, 8);
  expect(units.usBarrelsFromL(1642.8687)).toBeCloseTo(14, 6);
  expect(units.tempCFromF(100)).toBeCloseTo(37.78, 2);
});

test("weights are spoken in the reader's unit", () => {
  expect(units.formatMass(22_480_000, "metric")).toBe("22.5 t");
  expect(units.formatMass(830_000, "metric")).toBe("830 kg");
  expect(units.formatMass(999_499, "metric")).toBe("999 kg");
  expect(units.formatMass(999_500, "metric")).toBe("1.0 t");
  expect(units.formatMass(22_480_000, "us", "barley")).toBe("1,032 bu");
  expect(units.formatMass(22_480_000, "us", "wheat")).toBe("826 bu");
  expect(units.formatMass(830_000, "us")).toBe("1,830 lb");
});

test("volumes and areas are spoken in the reader's unit", () => {
  expect(units.formatVolume(1642.87, "us")).toBe("14.0 bbl");
  expect(units.formatVolume(1642.87, "metric")).toBe("16.4 hl");
  expect(units.formatArea(9.5 * units.SQUARE_METRES_PER_ACRE, "us")).toBe("9.5 ac");
  expect(units.formatArea(9.5 * units.SQUARE_METRES_PER_ACRE, "metric")).toBe("3.84 ha");
});
