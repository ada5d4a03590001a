/**
 * The moisture that grain and air settle at when they lie together: modified Chung-Pfost equation,
 *
 *     RH = exp(-A / (T + C) exp(-B M)),   M in % of dry matter, T in °C
 *
 * with constants of ASABE D245. It says which outside air dries grain, and how full the air leaves it. It does
 * not judge whether grain keeps (storage-life.ts does): for barley at 21 °C and 60 % NDSU Extension prints
 * 11.8 %, as the older constants of the same standard give, 1.6 points below the newer ones here.
 */
import type { GrainCrop } from "../units.ts";
import { requireBetween } from "./limits.ts";

/** Constants of one crop, for moisture in % of dry matter. */
export interface EquilibriumConstants {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  /** Where the constants come from, in words to be shown beside a result. */
  readonly source: string;
}

const BOOK = "Storage of Cereal Grains and Their Products, 5th edition, as typed into an open code file";

export const EQUILIBRIUM: Readonly<Record<GrainCrop, EquilibriumConstants>> = {
  barley: {
    a: 475.12,
    b: 0.14843,
    c: 71.996,
    source: "ASABE D245, A from memory (another copy prints 457.12)",
  },
  wheat: { a: 610.34, b: 0.15526, c: 93.213, source: BOOK },
  rye: { a: 461.023, b: 0.184, c: 38.741, source: BOOK },
  oats: { a: 433.157, b: 0.21581, c: 41.439, source: BOOK },
};

function check(tempC: number): void {
  requireBetween("temperature of grain and air", tempC, -20, 70, "°C");
}

/**
 * Moisture (fraction, wet basis) that grain tends to in air of a temperature and relative humidity of 0.1 to
 * 0.95. Good to about 0.7 points for wheat; see above for barley.
 */
export function equilibriumMoistureWb(crop: GrainCrop, tempC: number, relativeHumidity: number): number {
  check(tempC);
  requireBetween("relative humidity", relativeHumidity, 0.1, 0.95, "(0.65 for 65 %)");
  const { a, b, c } = EQUILIBRIUM[crop];
  const dryBasisPercent = -Math.log(-(tempC + c) * Math.log(relativeHumidity) / a) / b;
  return dryBasisPercent / (100 + dryBasisPercent);
}

/** Relative humidity (0 to 1) of the air between corns of a moisture of 5 to 30 %. */
export function equilibriumHumidity(crop: GrainCrop, tempC: number, moistureWb: number): number {
  check(tempC);
  requireBetween("moisture of the grain", moistureWb, 0.05, 0.3, "(0.14 for 14 %)");
  const { a, b, c } = EQUILIBRIUM[crop];
  const dryBasisPercent = 100 * moistureWb / (1 - moistureWb);
  return Math.exp(-a / (tempC + c) * Math.exp(-b * dryBasisPercent));
}
