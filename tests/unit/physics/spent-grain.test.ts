import { expect, test } from "vitest";
import { spentGrainDmKg, wetFromDmKg, wetSpentGrainKg } from "../../../core/physics/spent-grain.ts";

// outside: "The Oxford Companion to Beer", spent grain: 100 kg of dry grist leave 100 to 130 kg wet, of which
// 75 to 80 % is water. The remainder has to come out there too: malt at 4 %, 77 % extract, 95 % of it won, 4
// % of it bound water (the last three are ours).
test("outside: the remainder of the brewhouse weighs what spent grain weighs", () => {
  const extractKg = 100 * 0.77 * 0.95;
  const wetKg = wetFromDmKg(spentGrainDmKg(96, 0.04 * extractKg, extractKg));
  expect(wetKg).toBeGreaterThan(100);
  expect(wetKg).toBeLessThan(130);
});

test("a rule of thumb for the cart", () => {
  expect(wetSpentGrainKg(316)).toBeCloseTo(363.4, 9);
  expect(wetSpentGrainKg(100, 1.3)).toBeCloseTo(130, 9);
});

test("extract and spent grain make up the grist and its bound water", () => {
  expect(spentGrainDmKg(96, 3, 73) + 73).toBeCloseTo(96 + 3, 12);
  expect(wetFromDmKg(22)).toBeCloseTo(100, 9);
  expect(wetFromDmKg(22, 0.8)).toBeCloseTo(110, 9);
});

test("more extract than grist is refused in words", () => {
  expect(() => spentGrainDmKg(96, 0, 97)).toThrow("97 kg of extract cannot come from 96 kg of dry grist");
  expect(() => wetSpentGrainKg(-1)).toThrow("grist");
  expect(() => wetFromDmKg(22, 78)).toThrow("0.12 for 12 %");
});
