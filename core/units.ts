/**
 * Exact factors between the units people read and the SI units kept inside, and the few formatters that turn
 * a kept quantity into words for a reader. Conversions happen at the edge of the program, nowhere else.
 */

/** Small grains the farm can grow and malt. */
export type GrainCrop = "barley" | "wheat" | "rye" | "oats";
/** Which units a person reads: US trade units or metric ones. */
export type ReaderUnits = "us" | "metric";

/**
 * Grams in an avoirdupois pound, exact: international yard and pound agreement, 1959 (NIST Handbook 44,
 * appendix C).
 */
export const GRAMS_PER_LB = 453.59237;
/** Tonnes in a US short ton of 2,000 lb, exact. */
export const TONNES_PER_SHORT_TON = 0.90718474;
/** Grams in a tonne, exact. */
export const G_PER_TONNE = 1e6;
/** Metres in an international foot, exact: 1959 agreement. */
export const METRES_PER_FOOT = 0.3048;
/** Square metres in an international acre of 43,560 square feet, exact. */
export const SQUARE_METRES_PER_ACRE = 4046.8564224;
/** Litres in a US (Winchester) bushel of 2,150.42 cubic inches, exact (NIST Handbook 44, appendix C). */
export const LITRES_PER_BUSHEL = 35.23907016688;
/** Litres in a US gallon of 231 cubic inches, exact (NIST Handbook 44, appendix C). */
export const LITRES_PER_US_GALLON = 3.785411784;
/** Litres in a US beer barrel of 31 gallons (27 CFR 25.11), exact. A UK barrel holds 39 % more. */
export const LITRES_PER_US_BARREL = 117.347765304;
/** Litres in a US liquid pint, an eighth of a US gallon, exact. */
export const LITRES_PER_US_PINT = 0.473176473;
/** Litres in an imperial gallon, exact (UK Weights and Measures Act 1985, schedule 1). */
export const LITRES_PER_IMPERIAL_GALLON = 4.54609;
/** Litres in a UK beer barrel of 36 imperial gallons, exact. */
export const LITRES_PER_UK_BARREL = 163.65924;
/** Litres in an imperial pint, an eighth of an imperial gallon, exact. */
export const LITRES_PER_IMPERIAL_PINT = 0.56826125;

/**
 * Pounds in the trade's standard bushel of each crop. It is a weight, whatever the grain's test weight: Univ.
 * Minnesota Extension table A-17 (WW-00469).
 */
export const LB_PER_BUSHEL: Readonly<Record<GrainCrop, number>> = {
  barley: 48,
  wheat: 60,
  rye: 56,
  oats: 32,
};

/** Pounds of so many grams. */
export function lbFromG(massG: number): number {
  return massG / GRAMS_PER_LB;
}

/** Grams of so many pounds. */
export function gFromLb(massLb: number): number {
  return massLb * GRAMS_PER_LB;
}

/** Acres of so many square metres. */
export function acresFromM2(areaM2: number): number {
  return areaM2 / SQUARE_METRES_PER_ACRE;
}

/** US beer barrels of so many litres. */
export function usBarrelsFromL(volumeL: number): number {
  return volumeL / LITRES_PER_US_BARREL;
}

/** Degrees Celsius of a Fahrenheit reading; the scales meet at 32 °F = 0 °C with 9 °F to 5 °C. */
export function tempCFromF(tempF: number): number {
  return (tempF - 32) * 5 / 9;
}

/** The Fahrenheit reading of degrees Celsius. */
export function tempFFromC(tempC: number): number {
  return tempC * 9 / 5 + 32;
}

/** Formatters by their decimals. Making one takes far longer than using it, and a year is full of numbers. */
const spokenWith = [0, 1, 2].map((decimals) =>
  new Intl.NumberFormat("en-US", { minimumFractionDigits: decimals, maximumFractionDigits: decimals })
);

function spoken(value: number, decimals: 0 | 1 | 2): string {
  return spokenWith[decimals]!.format(value);
}

/**
 * A weight for a reader. Metric: kilograms below a tonne, then tonnes to 0.1. US: standard bushels when the
 * crop is named (grain is spoken of in bushels), pounds when it is not (malt is spoken of in pounds).
 */
export function formatMass(massG: number, units: ReaderUnits, crop?: GrainCrop): string {
  if (units === "us") {
    const massLb = lbFromG(massG);
    return crop === undefined ? `${spoken(massLb, 0)} lb` : `${spoken(massLb / LB_PER_BUSHEL[crop], 0)} bu`;
  }
  // From 999.5 kg on, rounding would print "1,000 kg", so tonnes begin there.
  return Math.abs(massG) < 999_500 ? `${spoken(massG / 1e3, 0)} kg` : `${spoken(massG / 1e6, 1)} t`;
}

/** A volume of wort or beer for a reader: US beer barrels or hectolitres, to 0.1. */
export function formatVolume(volumeL: number, units: ReaderUnits): string {
  return units === "us" ? `${spoken(usBarrelsFromL(volumeL), 1)} bbl` : `${spoken(volumeL / 100, 1)} hl`;
}

/** An area of land for a reader: acres to 0.1 or hectares to 0.01, about the same fineness on the ground. */
export function formatArea(areaM2: number, units: ReaderUnits): string {
  return units === "us" ? `${spoken(acresFromM2(areaM2), 1)} ac` : `${spoken(areaM2 / 1e4, 2)} ha`;
}
