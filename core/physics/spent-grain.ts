/**
 * Spent grain: the weight to be carted on a brew day, and the dry matter that is left when the extract has
 * gone.
 */
import { requireFraction, requireNotNegative } from "./limits.ts";

/**
 * Wet spent grain in kg from one kg of grist, 1.15, at the moisture below: middle of the 1.0 to 1.3 kg and 75
 * to 80 % water that the trade quotes. Common practice, no source.
 */
export const WET_KG_PER_GRIST_KG = 1.15;
/** Water in wet spent grain, fraction of wet weight. Common practice, no source. */
export const SPENT_GRAIN_MOISTURE_WB = 0.78;

/** Wet spent grain in kg of a brew. */
export function wetSpentGrainKg(gristKg: number, wetKgPerGristKg: number = WET_KG_PER_GRIST_KG): number {
  requireNotNegative("grist in kilograms", gristKg);
  requireNotNegative("wet spent grain for each kilogram of grist", wetKgPerGristKg);
  return gristKg * wetKgPerGristKg;
}

/**
 * Dry matter of the spent grain in kg, as the remainder of the brewhouse: grist dry matter and the water that
 * starch binds on becoming sugar come in, extract and spent grain go out. Throws a RangeError when more
 * extract is claimed than the grist can hold.
 */
export function spentGrainDmKg(gristDmKg: number, boundWaterKg: number, extractOutKg: number): number {
  requireNotNegative("dry matter of the grist in kilograms", gristDmKg);
  requireNotNegative("water bound by the starch in kilograms", boundWaterKg);
  requireNotNegative("extract in kilograms", extractOutKg);
  const remainder = gristDmKg + boundWaterKg - extractOutKg;
  if (remainder < 0) {
    throw new RangeError(
      `${extractOutKg} kg of extract cannot come from ${gristDmKg} kg of dry grist; check the weights of the brew.`,
    );
  }
  return remainder;
}

/** Wet weight in kg of spent grain that holds so much dry matter. */
export function wetFromDmKg(dryMatterKg: number, moistureWb: number = SPENT_GRAIN_MOISTURE_WB): number {
  requireNotNegative("dry matter of the spent grain in kilograms", dryMatterKg);
  requireFraction("moisture of the spent grain", moistureWb);
  return dryMatterKg / (1 - moistureWb);
}
