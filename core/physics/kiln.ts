/**
 * The kiln: how much water leaves green malt, and what the season's air makes of it in hours and heat. Only free
 * drying is counted, in which the air leaves nearly full; the last tenth of moisture and the cure take their own
 * hours, at little heat. So hours are the least, and differences between months are what they are good for.
 */
import { type DryingAir, dryingAir, type OutsideAir } from "./drying-air.ts";
import { requireNotNegative, requirePositive } from "./limits.ts";
import type { MaltingBalance } from "./malting-balance.ts";
import { massAtMoisture } from "./shrink.ts";

/** What leaves the kiln: malt and the culms that are still on it, dry matter and as they are, in kg. */
export type KilnOutput = Pick<MaltingBalance, "maltDmKg" | "maltKg" | "culmsDmKg" | "culmsKg">;

/** Weight in kg of the green malt, rootlets on, that gives this output. */
export function greenMaltKg(output: KilnOutput, greenMoistureWb: number): number {
  const dryKg = output.maltDmKg + output.culmsDmKg;
  requireNotNegative("dry matter leaving the kiln", dryKg);
  return massAtMoisture(dryKg, 0, greenMoistureWb);
}

/** Kilograms of water the kiln evaporates, from green malt of 40 to 46 % moisture to malt and culms. */
export function kilnWaterKg(output: KilnOutput, greenMoistureWb: number): number {
  const waterKg = greenMaltKg(output, greenMoistureWb) - output.maltKg - output.culmsKg;
  requireNotNegative("water to evaporate (green malt must be wetter than malt)", waterKg);
  return waterKg;
}

/** Least hours of free drying with a fan of so many cubic metres an hour of outside air. */
export function freeDryingHours(waterKg: number, airM3PerHour: number, air: DryingAir): number {
  requireNotNegative("water in kilograms", waterKg);
  requirePositive("air in cubic metres an hour", airM3PerHour);
  return waterKg / (airM3PerHour * air.waterKgPerM3);
}

/** Heat in kWh to warm the air for so much water, before any recovery. */
export function kilnHeatKWh(waterKg: number, air: DryingAir): number {
  requireNotNegative("water in kilograms", waterKg);
  return waterKg * air.heatKWhPerKgWater;
}

/**
 * Hours of free drying that each month asks for beyond the quickest, for the season's `monthExtraKilnHours`.
 * `months` is the outside air of January to December.
 */
export function extraKilnHoursByMonth(
  waterKg: number,
  airM3PerHour: number,
  airOnC: number,
  months: readonly OutsideAir[],
): number[] {
  const hours = months.map((outside) => freeDryingHours(waterKg, airM3PerHour, dryingAir(outside, airOnC)));
  const quickest = Math.min(...hours);
  return hours.map((one) => one - quickest);
}
