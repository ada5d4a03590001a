import { expect, test } from "vitest";
import { beerSrm, ebcFromSrm, lovibondFromSrm, srmFromEbc } from "../../../core/physics/colour.ts";

// outside: Daniels, "Designing Great Beers" (Brewers Publications): over malt colour units of about 11 to 36 the
// colour of brewed beers ran along 0.2 MCU + 8.4. The curve in use was drawn through this line and two others, and
// stays within 3 degrees of it. Units taken for pounds a barrel, or kilograms a litre, would be far out.
test.each([11, 15, 20, 25, 30, 36])("outside: the colour of a beer of %f malt colour units", (units) => {
  expect(Math.abs(beerSrm(units) - (0.2 * units + 8.4))).toBeLessThan(3);
});

test("a secondary page's case, which two common misprints of the curve would miss", () => {
  expect(beerSrm(15.6)).toBeCloseTo(9.8, 1);
  expect(ebcFromSrm(9.8)).toBeCloseTo(19.3, 1);
});

test("scales there and back", () => {
  expect(ebcFromSrm(1)).toBeCloseTo(1.97, 2);
  expect(srmFromEbc(ebcFromSrm(12))).toBeCloseTo(12, 12);
  expect(lovibondFromSrm(1.3546 * 60 - 0.76)).toBeCloseTo(60, 9);
  expect(beerSrm(0)).toBe(0);
});

test("what the curve does not hold for is refused in words", () => {
  expect(() => beerSrm(200)).toThrow("darker beer is beyond the curve");
  expect(() => beerSrm(-1)).toThrow("malt colour units");
  expect(() => srmFromEbc(-1)).toThrow("degrees EBC");
});
