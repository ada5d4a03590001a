import { expect, test } from "vitest";
import { LITRES_PER_US_GALLON, usBarrelsFromL } from "../../../core/units.ts";

const FLUID_OUNCE_L = LITRES_PER_US_GALLON / 128;

// outside (conversion): 27 CFR 25.156, barrel equivalents of kegs, and 25.158, of cases of bottles, to five
// decimals.
test.each([
  ["a keg of 5 gallons", 5 * LITRES_PER_US_GALLON, 0.16129],
  ["a keg of 30 litres", 30, 0.25565],
  ["a keg of 50 litres", 50, 0.42608],
  ["24 bottles of 12 ounces", 24 * 12 * FLUID_OUNCE_L, 0.07258],
  ["12 bottles of 22 ounces", 12 * 22 * FLUID_OUNCE_L, 0.06653],
  ["24 bottles of half a litre", 12, 0.10226],
])("outside: %s in barrels", (_name, volumeL, barrels) => {
  expect(usBarrelsFromL(volumeL)).toBeCloseTo(barrels, 5);
});
