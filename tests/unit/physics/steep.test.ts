import fc from "fast-check";
import { expect, test } from "vitest";
import * as steep from "../../../core/physics/steep.ts";

// The vessel of "Cereals Processing Technology", p. 193, as in the bed's check: 300 t on 500 to 545 m², about
// 1.2 m deep, so 600 to 654 m³.
test("300 t fill a vessel of 600 to 654 m³", () => {
  const volumeM3 = steep.steepedVolumeL(300_000, 66.7) / 1000;
  expect(volumeM3).toBeGreaterThan(600);
  expect(volumeM3).toBeLessThan(654);
});

test("a tonne from 12 to 45 % takes up 600 kg of water", () => {
  expect(steep.steepWaterKg(1000, 0.12, 0.45)).toBeCloseTo(600, 9);
  // A bag of 100 g at 8 % weighs 158.6 g at 42 %.
  expect(steep.steepWaterKg(100, 0.08, 0.42)).toBeCloseTo(58.6, 1);
});

test("two weighings tell the hours to the target", () => {
  const uptake = steep.fitUptake(0.12, { hours: 8, moistureWb: 0.32 }, { hours: 24, moistureWb: 0.40 });
  expect(steep.steepMoistureWb(uptake, 0)).toBeCloseTo(0.12, 12);
  expect(steep.steepMoistureWb(uptake, 8)).toBeCloseTo(0.32, 12);
  expect(steep.steepMoistureWb(uptake, 24)).toBeCloseTo(0.40, 12);
  // By hand: gains of 0.3342 and 0.5303 of dry matter, so t / gain is 23.94 and 45.26; k2 = 1.3324, k1 = 13.28.
  expect(uptake.k2).toBeCloseTo(1.3324, 3);
  expect(uptake.k1Hours).toBeCloseTo(13.28, 2);
  const hours = steep.steepHoursTo(uptake, 0.43);
  expect(steep.steepMoistureWb(uptake, hours)).toBeCloseTo(0.43, 12);
  expect(hours).toBeGreaterThan(24);
  expect(() => steep.steepHoursTo(uptake, 0.50)).toThrow("never reaches 0.5");
});

test("uptake climbs ever slower and never passes its end", () => {
  const rate = fc.double({ min: 2, max: 40, noNaN: true });
  const end = fc.double({ min: 0.9, max: 3, noNaN: true });
  const hours = fc.double({ min: 0.1, max: 100, noNaN: true });
  fc.assert(fc.property(rate, end, hours, (k1Hours, k2, t) => {
    const uptake = { startWb: 0.12, k1Hours, k2 };
    const [one, two, three] = [t, t + 1, t + 2].map((time) => steep.steepMoistureWb(uptake, time));
    expect(two! - one!).toBeGreaterThan(three! - two!);
    expect(three!).toBeGreaterThan(two!);
    expect(steep.steepHoursTo(uptake, two!)).toBeCloseTo(t + 1, 6);
  }));
});

test("impossible steeps are refused in words", () => {
  expect(() => steep.steepWaterKg(1000, 0.45, 0.12)).toThrow("grain only gains water");
  expect(() => steep.fitUptake(0.12, { hours: 8, moistureWb: 0.4 }, { hours: 24, moistureWb: 0.32 })).toThrow(
    "first fast and then slower",
  );
  expect(() => steep.fitUptake(0.12, { hours: 8, moistureWb: 0.3 }, { hours: 8, moistureWb: 0.32 })).toThrow(
    "hours between the weighings",
  );
  expect(() => steep.steepedVolumeL(1000, 66.7, 40)).toThrow("times the dry volume");
  expect(() => steep.steepMoistureWb({ startWb: 0.12, k1Hours: 10, k2: 1 }, -1)).toThrow("hours in steep");
});
