import { expect, test } from "vitest";
import { maltingBalance } from "../../../core/physics/malting-balance.ts";

test("grain, malt and culms have each their own moisture", () => {
  // Round numbers, so that each weight can be worked out in the head; invented.
  const balance = maltingBalance(1000, {
    moistureWb: 0.2,
    screeningLoss: 0.5,
    steepLossDm: 0.05,
    respirationLossDm: 0.05,
    rootletLossDm: 0.1,
    maltMoistureWb: 0.36,
    culmMoistureWb: 0.6,
  });
  expect(balance.dryMatterInKg).toBeCloseTo(400, 9);
  expect(balance.maltKg).toBeCloseTo(320 / 0.64, 9);
  expect(balance.culmsKg).toBeCloseTo(40 / 0.4, 9);
});
