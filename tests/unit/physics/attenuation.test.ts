import fc from "fast-check";
import { expect, test } from "vitest";
import {
  apparentAttenuation,
  apparentExtractAt,
  realAttenuation,
} from "../../../core/physics/attenuation.ts";

test("a wort of 12 °P that ends at 3", () => {
  expect(apparentAttenuation(12, 3)).toBeCloseTo(0.75, 12);
  expect(realAttenuation(12, 3)).toBeCloseTo(0.614, 3);
  expect(apparentExtractAt(12, 0.75)).toBeCloseTo(3, 12);
});

test("real attenuation is 0.8192 of the apparent, and the forecast is the inverse", () => {
  const wort = fc.double({ min: 5, max: 25, noNaN: true });
  const part = fc.double({ min: 0.01, max: 1, noNaN: true });
  fc.assert(fc.property(wort, part, (plato, attenuation) => {
    const beer = apparentExtractAt(plato, attenuation);
    expect(apparentAttenuation(plato, beer)).toBeCloseTo(attenuation, 9);
    expect(realAttenuation(plato, beer) / attenuation).toBeCloseTo(0.8192, 6);
  }));
});

test("impossible beers are refused in words", () => {
  expect(() => apparentAttenuation(12, 13)).toThrow("apparent extract of the beer");
  expect(() => realAttenuation(1.048, 1.01)).not.toThrow();
  expect(() => apparentAttenuation(0, 0)).toThrow("strength of the wort");
  expect(() => apparentExtractAt(12, 75)).toThrow("0.75 for 75 %");
});
