import { expect, test } from "vitest";
import { dryToMoisture, intakeClean } from "../../../core/physics/shrink.ts";

test("grain that is as dry as asked for keeps its weight, and drier grain is refused", () => {
  expect(dryToMoisture(1000, 0.12, 0.12)).toBe(1000);
  expect(() => dryToMoisture(1000, 0.12, 0.1200001)).toThrow(RangeError);
});

test("the intake clean takes its share of what came in, not of what stays", () => {
  expect(intakeClean(1000, 0.1)).toBeCloseTo(900, 9);
  expect(intakeClean(1000, 0)).toBe(1000);
});
