import { expect, test } from "vitest";
import { cleanKgFor, maltingBalance } from "../../../core/physics/malting-balance.ts";
import { extractKg, sgFromPlato } from "../../../core/physics/extract.ts";
import { coldVolumeL } from "../../../core/physics/glass.ts";
import { LITRES_PER_UK_BARREL } from "../../../core/units.ts";

/** The 10.4 % loss of dry matter that the trade's 830 kg a tonne imply. */
const LOSSES = {
  moistureWb: 0.12,
  screeningLoss: 0,
  steepLossDm: 0.0104,
  respirationLossDm: 0.052,
  rootletLossDm: 0.0416,
  maltMoistureWb: 0.05,
  culmMoistureWb: 0.05,
};

// outside: Maltsters' Association of Great Britain, malt facts: a tonne of malt makes 54 barrels, and a hectare
// of barley 50,000 litres of beer. So a hectare has to yield what UK hectares yield: Defra's farming statistics
// print 5.7 (2018), 6.2 (2021) and 7.0 t (2019). With US barrels it would have to yield 9.5 t.
test("outside: beer from a hectare asks for a hectare's barley", () => {
  const maltKg = 50_000 / (54 * LITRES_PER_UK_BARREL) * 1000;
  const grainT = cleanKgFor(maltKg, LOSSES) / 1000;
  expect(grainT).toBeGreaterThan(5.7);
  expect(grainT).toBeLessThan(7.0);
  expect(maltingBalance(grainT * 1000, LOSSES).maltKg).toBeCloseTo(maltKg, 6);
});

// outside: Kunze, "Technologie für Brauer und Mälzer" (1962, pp. 257 and 263): brewhouse yield in % is °P x
// specific gravity x 0.96 x litres measured hot ÷ grist in kg. 100 litres of 14.5 °P from 22.54 kg give 65.3 %,
// where cold litres would give 68.0.
test("outside: brewhouse yield from hot wort", () => {
  const ours = 100 * extractKg(coldVolumeL(100), 14.5) / 22.53961;
  const kunze = 14.5 * sgFromPlato(14.5) * 0.96 * 100 / 22.53961;
  expect(Math.abs(ours / kunze - 1)).toBeLessThan(0.003);
  expect(Math.abs(ours - 65.3)).toBeLessThan(0.1);
});

/** Density of water in kg/m³, Kell's equation as recalculated by Bettin and Spieweck. */
function waterKgPerM3(tempC: number): number {
  const powers = [999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12];
  return powers.reduce((sum, factor, power) => sum + factor * tempC ** power, 0) / (1 + 16.887236e-3 * tempC);
}

// outside: Kell's equation for the density of water (IP Standard Methods 1998, appendix G): 958.4 kg/m³ at 100 °C
// and 998.2 at 20, so water, and wort about like it, loses 4 % of its volume on cooling.
test("outside: wort shrinks as water does", () => {
  expect(waterKgPerM3(20)).toBeCloseTo(998.2, 1);
  expect(Math.abs(coldVolumeL(100) - 100 * waterKgPerM3(100) / waterKgPerM3(20))).toBeLessThan(0.1);
});
