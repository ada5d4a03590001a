/**
 * What a grist brings to the mash besides extract: colour, and the enzymes that turn starch into sugar. Both are
 * weighed means, so one rule serves substitutions: what may stand in for what, and what it changes.
 */
import { GRAMS_PER_LB, LITRES_PER_US_GALLON } from "../units.ts";
import { requireBetween, requireNotNegative, requirePositive } from "./limits.ts";

/** A weight of one malt or grain in a grist. */
export interface GristPart {
  readonly massKg: number;
  /** Diastatic power in degrees Lintner; roasted malt and raw grain bring none. */
  readonly lintner: number;
  /** Colour of the malt in degrees Lovibond. */
  readonly lovibond: number;
}

function weightKg(grist: readonly GristPart[]): number {
  const sumKg = grist.reduce((sum, { massKg }) => {
    requireNotNegative("weight in the grist", massKg);
    return sum + massKg;
  }, 0);
  requirePositive("weight of the grist", sumKg);
  return sumKg;
}

/** Diastatic power of a grist in degrees Lintner: mean by weight, raw grain counted in. */
export function gristLintner(grist: readonly GristPart[]): number {
  const sumKg = weightKg(grist);
  return grist.reduce((sum, { massKg, lintner }) => {
    requireNotNegative("diastatic power in degrees Lintner", lintner);
    return sum + massKg * lintner;
  }, 0) / sumKg;
}

/** Degrees Lintner from Windisch-Kolbach units: (WK + 16) / 3.5. The trade's conversion, no standard read. */
export function lintnerFromWk(windischKolbach: number): number {
  requireNotNegative("diastatic power in Windisch-Kolbach units", windischKolbach);
  return (windischKolbach + 16) / 3.5;
}

/** Windisch-Kolbach units from degrees Lintner. */
export function wkFromLintner(lintner: number): number {
  requireBetween("diastatic power", lintner, 16 / 3.5, 1000, "degrees Lintner");
  return 3.5 * lintner - 16;
}

/** Whether the enzymes of a grist turn its starch into sugar. */
export type Conversion = "too weak" | "doubtful" | "enough" | "ample";

/** Below 30 degrees a mash stalls, from 40 it converts, from 70 within the hour. Common practice, no source; the
 * open recipe standard BeerJSON says 35 for malt that converts itself. */
const LEAST_LINTNER = 30;
const ENOUGH_LINTNER = 40;
const AMPLE_LINTNER = 70;

/** What a grist's diastatic power promises. */
export function conversion(lintner: number): Conversion {
  requireNotNegative("diastatic power in degrees Lintner", lintner);
  if (lintner < LEAST_LINTNER) return "too weak";
  if (lintner < ENOUGH_LINTNER) return "doubtful";
  return lintner < AMPLE_LINTNER ? "enough" : "ample";
}

/** Malt colour units of a grist: degrees Lovibond x pounds a US gallon of wort. */
export function maltColourUnits(grist: readonly GristPart[], wortL: number): number {
  requirePositive("volume of wort in litres", wortL);
  weightKg(grist);
  const perKg = grist.reduce((sum, { massKg, lovibond }) => {
    requireNotNegative("colour in degrees Lovibond", lovibond);
    return sum + massKg * lovibond;
  }, 0);
  return perKg * 1000 / GRAMS_PER_LB * LITRES_PER_US_GALLON / wortL;
}
