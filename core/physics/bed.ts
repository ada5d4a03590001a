/**
 * How much steeped grain a germination bed takes: grain swells, and its volume and the bed's depth set the
 * load.
 */
import { requirePositive } from "./limits.ts";
import { massAtMoisture } from "./shrink.ts";

/**
 * How many times its dry volume grain fills once steeped, from its moistures and the bulk densities before
 * and after, in kg/m³. Sources disagree on a general figure: 1.18 to 1.25 in encyclopaedias, 1.4 in
 * laboratory and vessel.
 */
export function swellRatio(
  fromWb: number,
  toWb: number,
  densityBeforeKgPerM3: number,
  densityAfterKgPerM3: number,
): number {
  requirePositive("bulk density before steeping", densityBeforeKgPerM3);
  requirePositive("bulk density after steeping", densityAfterKgPerM3);
  return massAtMoisture(1, fromWb, toWb) * densityBeforeKgPerM3 / densityAfterKgPerM3;
}

/**
 * Clean grain in kg, as weighed before steeping, that fills a bed of this area to this depth once it has
 * swollen.
 */
export function bedLoadKg(areaM2: number, depthM: number, testWeightKgPerHl: number, swell: number): number {
  requirePositive("bed area in square metres", areaM2);
  requirePositive("bed depth in metres", depthM);
  requirePositive("test weight in kilograms a hectolitre", testWeightKgPerHl);
  requirePositive("swell ratio", swell);
  return areaM2 * depthM * testWeightKgPerHl * 10 / swell;
}
