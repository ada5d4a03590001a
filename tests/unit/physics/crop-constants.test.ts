import { describe, expect, test } from "vitest";
import { equilibriumHumidity, equilibriumMoistureWb } from "../../../core/physics/equilibrium.ts";
import { sigmaDays, VIABILITY } from "../../../core/physics/viability.ts";

// The constants are typed again here from the pages they were read on (the sources named beside them in core), in a
// second form of each equation, so that a slip in either copy shows. They are not outside checks of the result.

describe("modified Chung-Pfost, solved for the other unknown", () => {
  const crops = [
    { crop: "wheat", a: 610.34, b: 0.15526, c: 93.213 },
    { crop: "rye", a: 461.023, b: 0.184, c: 38.741 },
    { crop: "oats", a: 433.157, b: 0.21581, c: 41.439 },
  ] as const;

  test.each(crops)("$crop", ({ crop, a, b, c }) => {
    for (const [tempC, percentDb] of [[5, 10], [20, 14], [30, 17]] as const) {
      const humidity = Math.E ** -(a * Math.E ** -(b * percentDb) / (tempC + c));
      const moistureWb = 1 - 1 / (1 + percentDb / 100);
      expect(equilibriumHumidity(crop, tempC, moistureWb)).toBeCloseTo(humidity, 9);
      expect(equilibriumMoistureWb(crop, tempC, humidity)).toBeCloseTo(moistureWb, 9);
    }
  });
});

describe("spread of seed deaths", () => {
  const crops = [
    { crop: "barley", kE: 9.144, cW: 5.342, cH: 0.0329, cQ: 0.000478 },
    { crop: "wheat", kE: 9.043, cW: 5.183, cH: 0.0351, cQ: 0.000475 },
    { crop: "rye", kE: 6.361, cW: 2.059, cH: 0.03, cQ: 0.000201 },
  ] as const;

  test.each(crops)("$crop", ({ crop, kE, cW, cH, cQ }) => {
    for (const [percent, tempC] of [[10, 4], [13, 15], [18, 25]] as const) {
      const days = 10 ** kE / percent ** cW / 10 ** (cH * tempC) / 10 ** (cQ * tempC ** 2);
      expect(sigmaDays(VIABILITY[crop], percent, tempC) / days).toBeCloseTo(1, 9);
    }
  });

  test("oats keep as barley does", () => {
    const { source: _, ...oats } = VIABILITY.oats;
    expect(VIABILITY.barley).toMatchObject(oats);
  });
});
