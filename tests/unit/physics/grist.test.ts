import fc from "fast-check";
import { expect, test } from "vitest";
import * as grist from "../../../core/physics/grist.ts";

const LB = 0.45359237;
const GALLON_L = 3.785411784;
const part = (lb: number, lintner: number, lovibond = 2) => ({ massKg: lb * LB, lintner, lovibond });

// A secondary page's grist, so not an outside check: 2 lb of 140, 0.5 of 40 and 0.3 of none make 107 degrees.
test("diastatic power is a mean by weight", () => {
  expect(grist.gristLintner([part(2, 140), part(0.5, 40), part(0.3, 0)])).toBeCloseTo(107.1, 1);
});

test("raw grain dilutes, and never lifts a grist above its strongest malt", () => {
  const weight = fc.double({ min: 0.1, max: 100, noNaN: true });
  const power = fc.double({ min: 0, max: 200, noNaN: true });
  fc.assert(fc.property(weight, power, weight, power, weight, (w1, p1, w2, p2, raw) => {
    const malts = [part(w1, p1), part(w2, p2)];
    const mean = grist.gristLintner(malts);
    expect(mean).toBeLessThanOrEqual(Math.max(p1, p2) + 1e-9);
    expect(mean).toBeGreaterThanOrEqual(Math.min(p1, p2) - 1e-9);
    expect(grist.gristLintner([...malts, part(raw, 0)])).toBeLessThanOrEqual(mean);
  }));
});

test("Windisch-Kolbach and Lintner", () => {
  // A wheat malt analysis of 317 WK is printed as 95 degrees.
  expect(grist.lintnerFromWk(317)).toBeCloseTo(95, 0);
  expect(grist.wkFromLintner(grist.lintnerFromWk(250))).toBeCloseTo(250, 9);
});

test("what a power promises", () => {
  const promises = [29.9, 30, 39.9, 40, 69.9, 70].map(grist.conversion);
  expect(promises).toEqual(["too weak", "doubtful", "doubtful", "enough", "enough", "ample"]);
});

test("malt colour units are degrees Lovibond x pounds a US gallon", () => {
  const bill = [part(9, 140, 2), part(1, 0, 60)];
  expect(grist.maltColourUnits(bill, 5 * GALLON_L)).toBeCloseTo(78 / 5, 9);
});

test("impossible grists are refused in words", () => {
  expect(() => grist.gristLintner([])).toThrow("weight of the grist");
  expect(() => grist.gristLintner([part(-1, 140)])).toThrow("weight in the grist");
  expect(() => grist.gristLintner([part(1, -3)])).toThrow("diastatic power");
  expect(() => grist.maltColourUnits([part(1, 140)], 0)).toThrow("volume of wort");
  expect(() => grist.wkFromLintner(2)).toThrow("degrees Lintner");
});
