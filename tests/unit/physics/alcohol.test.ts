import { expect, test } from "vitest";
import { alcoholByVolume, alcoholByWeight, realExtract } from "../../../core/physics/alcohol.ts";

// Factors after Balling as tabled by Eckhardt, read on a secondary page and so not an outside check: alcohol
// by weight is a factor for the wort's strength times the drop in apparent extract. They rest on an older
// share of real extract and run 0.6 % (8 °P) to 1.6 % (20 °P) lower than the formula in use now; 2 % covers
// them.
test.each([[8, 0.4110], [10, 0.4148], [12, 0.4187], [14, 0.4226], [16, 0.4267], [20, 0.4351]])(
  "alcohol by weight from %f °P agrees with the old factors",
  (wort, factor) => {
    const beer = wort / 4;
    expect(Math.abs(alcoholByWeight(wort, beer) / (factor * (wort - beer)) - 1)).toBeLessThan(0.02);
  },
);

test("a wort of 12 °P that ends at 3", () => {
  expect(realExtract(12, 3)).toBeCloseTo(4.627, 3);
  expect(alcoholByWeight(12, 3)).toBeCloseTo(3.803, 3);
  expect(alcoholByVolume(12, 3)).toBeCloseTo(4.865, 2);
  expect(alcoholByVolume(16, 4)).toBeCloseTo(6.658, 2);
});

test("Balling's balance leads back to the wort", () => {
  for (const [wort, beer] of [[10, 2], [12, 3], [18, 5]] as const) {
    const weight = alcoholByWeight(wort, beer);
    const back = 100 * (2.0665 * weight + realExtract(wort, beer)) / (100 + 1.0665 * weight);
    expect(back).toBeCloseTo(wort, 9);
  }
});

test("beer stronger than its wort is refused in words", () => {
  expect(() => realExtract(12, 13)).toThrow("apparent extract of the beer must lie from 0 to 12 °P");
  expect(() => alcoholByVolume(1.048, -1)).toThrow(RangeError);
});
