/**
 * Extract: what wort holds, what malt gives, and so the malt a brew needs. Strength of wort is in °P, grams
 * in 100 g.
 */
import { requireBetween, requireFraction, requireNotNegative } from "./limits.ts";

/** Kilograms in a litre of water at 20 °C (from memory; 0.9982 in every table of water density). */
const WATER_KG_PER_L_20C = 0.998203;
/**
 * Strongest wort the fitted curve is used for, in °P. The tables it was fitted to end near 20 °P; at 30 it
 * errs by 0.02.
 */
export const MOST_PLATO = 30;

/**
 * Wort strength in °P from specific gravity at 20/20 °C, by the cubic fitted to the tables of the American
 * Society of Brewing Chemists.
 */
export function platoFromSg(sg: number): number {
  requireBetween("specific gravity of wort", sg, 0.98, 1.13, "(1.048, not 1048)");
  return ((135.997 * sg - 630.272) * sg + 1111.14) * sg - 616.868;
}

/** Specific gravity at 20/20 °C of a wort of 0 to 30 °P: the inverse of `platoFromSg`, by Newton's method. */
export function sgFromPlato(plato: number): number {
  requireBetween("strength of wort", plato, 0, MOST_PLATO, "°P");
  // A good first guess, one point of gravity for a quarter of a degree; three steps reach the last digit.
  let sg = 1 + plato / 250;
  for (let round = 0; round < 5; round++) {
    const slope = (3 * 135.997 * sg - 2 * 630.272) * sg + 1111.14;
    sg -= (((135.997 * sg - 630.272) * sg + 1111.14) * sg - 616.868 - plato) / slope;
  }
  return sg;
}

/** Kilograms of extract in a volume of wort at 20 °C: volume x density x mass fraction. */
export function extractKg(volumeL: number, plato: number): number {
  requireNotNegative("volume of wort in litres", volumeL);
  return volumeL * sgFromPlato(plato) * WATER_KG_PER_L_20C * plato / 100;
}

/** Kilograms of extract in a hectolitre of wort at 20 °C. */
export function extractKgPerHl(plato: number): number {
  return extractKg(100, plato);
}

/**
 * Extract of malt as it lies in the bag, from the laboratory's coarse grind extract on dry basis (both
 * fractions). A book form, dry basis / (1 + moisture) - 0.002, gives about 0.001 less; the plain dry matter
 * form is kept.
 */
export function extractAsIs(coarseDryBasis: number, moistureWb: number): number {
  requireFraction("coarse grind extract on dry basis", coarseDryBasis);
  requireFraction("moisture of the malt", moistureWb);
  return coarseDryBasis * (1 - moistureWb);
}

/**
 * Malt in kg that gives so much extract in the kettle or tank. `efficiency` is the brewhouse's share of
 * laboratory extract (0.80 to 0.95), not its yield on malt weight.
 */
export function maltForExtract(
  extractNeededKg: number,
  extractAsIsFraction: number,
  efficiency: number,
): number {
  requireNotNegative("extract needed in kilograms", extractNeededKg);
  requireBetween("extract of the malt as it is", extractAsIsFraction, 0.01, 1, "(a fraction)");
  requireBetween("brewhouse efficiency", efficiency, 0.01, 1, "(a fraction)");
  return extractNeededKg / (extractAsIsFraction * efficiency);
}

/**
 * Malt in kg for one brew, from its volume of cold wort, its strength, the malt's extract and the efficiency.
 */
export function kgPerBrew(
  volumeL: number,
  plato: number,
  extractAsIsFraction: number,
  efficiency: number,
): number {
  return maltForExtract(extractKg(volumeL, plato), extractAsIsFraction, efficiency);
}
