/** Colour of beer, and the scales it is told in. */
import { requireBetween, requireNotNegative } from "./limits.ts";

/**
 * Degrees SRM and EBC of one absorbance at 430 nm through 1 cm: 12.7 and 25, the definitions of the American
 * Society of Brewing Chemists and the European Brewery Convention. From memory; their ratio, 1.97, was read.
 */
const SRM_PER_ABSORBANCE = 12.7;
const EBC_PER_ABSORBANCE = 25;

/** Darkest beer the fitted curve is used for. */
const MOST_SRM = 50;

/**
 * Colour of beer in degrees SRM from the malt colour units of its grist, 1.4922 MCU^0.6859: Morey's curve
 * (Brewing Techniques, "Beer's law") through earlier straight lines of two textbooks, for beers up to 50 SRM.
 * Throws a RangeError for darker ones.
 */
export function beerSrm(maltColourUnits: number): number {
  requireNotNegative("malt colour units", maltColourUnits);
  const srm = 1.4922 * maltColourUnits ** 0.6859;
  requireBetween("colour of the beer", srm, 0, MOST_SRM, "SRM (darker beer is beyond the curve)");
  return srm;
}

/** Degrees EBC from degrees SRM, of beer or wort. */
export function ebcFromSrm(srm: number): number {
  requireNotNegative("colour in degrees SRM", srm);
  return srm * EBC_PER_ABSORBANCE / SRM_PER_ABSORBANCE;
}

/** Degrees SRM from degrees EBC. */
export function srmFromEbc(ebc: number): number {
  requireNotNegative("colour in degrees EBC", ebc);
  return ebc * SRM_PER_ABSORBANCE / EBC_PER_ABSORBANCE;
}

/** Malt colour in degrees Lovibond from degrees SRM: (SRM + 0.76) / 1.3546. From a secondary page. */
export function lovibondFromSrm(srm: number): number {
  requireNotNegative("colour in degrees SRM", srm);
  return (srm + 0.76) / 1.3546;
}
