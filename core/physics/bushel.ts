/** Test weight, standard bushels and yields, between the grain trade's units and SI. */
import {
  type GrainCrop,
  GRAMS_PER_LB,
  LB_PER_BUSHEL,
  LITRES_PER_BUSHEL,
  SQUARE_METRES_PER_ACRE,
} from "../units.ts";
import { requireNotNegative, requirePositive } from "./limits.ts";

/**
 * Kilograms per hectolitre of one pound per Winchester bushel, 1.28718… The Canadian charts use the larger
 * imperial bushel (factor 1.247); the two must not be mixed.
 */
const KG_PER_HL_OF_LB_PER_BU = GRAMS_PER_LB / 1000 / (LITRES_PER_BUSHEL / 100);

/** Test weight in kg/hl from lb per Winchester bushel. */
export function kgPerHlFromLbPerBu(testWeightLbPerBu: number): number {
  requirePositive("test weight in pounds a bushel", testWeightLbPerBu);
  return testWeightLbPerBu * KG_PER_HL_OF_LB_PER_BU;
}

/** Test weight in lb per Winchester bushel from kg/hl. */
export function lbPerBuFromKgPerHl(testWeightKgPerHl: number): number {
  requirePositive("test weight in kilograms a hectolitre", testWeightKgPerHl);
  return testWeightKgPerHl / KG_PER_HL_OF_LB_PER_BU;
}

/** Kilograms in one standard bushel of a crop: a weight, not what a bushel measure happens to hold. */
export function kgPerBushel(crop: GrainCrop): number {
  return LB_PER_BUSHEL[crop] * GRAMS_PER_LB / 1000;
}

/** Standard bushels in a weight of a crop. */
export function bushelsFromKg(massKg: number, crop: GrainCrop): number {
  requireNotNegative("weight in kilograms", massKg);
  return massKg / kgPerBushel(crop);
}

/** Weight in kg of so many standard bushels of a crop. */
export function kgFromBushels(bushels: number, crop: GrainCrop): number {
  requireNotNegative("number of bushels", bushels);
  return bushels * kgPerBushel(crop);
}

/** Yield in kg/ha from standard bushels an acre. */
export function kgPerHaFromBuPerAc(yieldBuPerAc: number, crop: GrainCrop): number {
  return kgFromBushels(yieldBuPerAc, crop) / SQUARE_METRES_PER_ACRE * 10_000;
}
