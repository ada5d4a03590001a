/**
 * Alcohol of beer from the strength before and after fermentation, after Balling. Strengths are in °P. The UK's
 * table for beer duty (HM Revenue and Customs, Notice 226) gives 2 to 3 % less, as yeast that grows makes no
 * alcohol: whoever pays duty by it uses the table.
 */
import { requireBetween } from "./limits.ts";
import { MOST_PLATO, sgFromPlato } from "./extract.ts";

/**
 * Specific gravity of ethanol at 20/20 °C as brewing tables round it, 0.791. From a secondary page; 0.794 is
 * seen too.
 */
const ETHANOL_SG = 0.791;

/** Real extract of beer in % by weight, from the extract of the wort and the apparent extract of the beer. */
export function realExtract(originalPlato: number, apparentPlato: number): number {
  requireBetween("strength of the wort", originalPlato, 0, MOST_PLATO, "°P");
  requireBetween("apparent extract of the beer", apparentPlato, 0, originalPlato, "°P");
  return 0.1808 * originalPlato + 0.8192 * apparentPlato;
}

/** Alcohol in % by weight: (OE - RE) / (2.0665 - 0.010665 OE), Balling's formula. */
export function alcoholByWeight(originalPlato: number, apparentPlato: number): number {
  return (originalPlato - realExtract(originalPlato, apparentPlato)) / (2.0665 - 0.010665 * originalPlato);
}

/** Alcohol in % by volume at 20 °C: weight x gravity of the beer / gravity of ethanol. */
export function alcoholByVolume(originalPlato: number, apparentPlato: number): number {
  return alcoholByWeight(originalPlato, apparentPlato) * sgFromPlato(apparentPlato) / ETHANOL_SG;
}
