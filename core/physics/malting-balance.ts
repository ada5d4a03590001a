/**
 * The weights of one malting run, stage by stage, so that every kilogram of dry matter drawn from the bin is
 * found again as screenings, loss, culms or malt. Losses in malting are fractions of the clean grain's dry
 * matter.
 */
import { requireFraction, requireNotNegative } from "./limits.ts";
import { dryMatter } from "./shrink.ts";

/**
 * Kilograms of carbon dioxide from one kilogram of starch respired, C6H10O5 + 6 O2 -> 6 CO2 + 5 H2O, by the
 * standard atomic weights (IUPAC, abridged): 6 x 44.009 / 162.141.
 */
const CO2_KG_PER_STARCH_KG = 6 * 44.009 / 162.141;

/** What a farm's malting takes away. */
export interface MaltingLosses {
  /** Moisture of the grain in the bin, fraction of wet weight. */
  readonly moistureWb: number;
  /** Part of the weight from the bin, as it is, that the screen takes out before steeping. */
  readonly screeningLoss: number;
  /** Part of clean dry matter washed out in steeping: 0.005 to 0.015, from memory. */
  readonly steepLossDm: number;
  /** Part of clean dry matter respired: 0.04 to 0.06, from memory. */
  readonly respirationLossDm: number;
  /** Part of clean dry matter that leaves as rootlets (culms): 0.03 to 0.05, from memory. */
  readonly rootletLossDm: number;
  /** Moisture of finished malt, fraction of wet weight. */
  readonly maltMoistureWb: number;
  /** Moisture of the culms, fraction of wet weight. */
  readonly culmMoistureWb: number;
}

/** Weights in kg; names ending in `Dm` are dry matter, the rest are as they are. */
export interface MaltingBalance {
  readonly screeningsKg: number;
  readonly cleanKg: number;
  readonly dryMatterInKg: number;
  readonly steepLossDmKg: number;
  readonly respirationLossDmKg: number;
  readonly culmsDmKg: number;
  readonly culmsKg: number;
  readonly co2Kg: number;
  readonly maltDmKg: number;
  readonly maltKg: number;
}

function check(losses: MaltingLosses): void {
  requireFraction("moisture of the grain", losses.moistureWb);
  requireFraction("screening loss", losses.screeningLoss);
  requireFraction("steep loss", losses.steepLossDm);
  requireFraction("respiration loss", losses.respirationLossDm);
  requireFraction("rootlet loss", losses.rootletLossDm);
  requireFraction("moisture of the malt", losses.maltMoistureWb);
  requireFraction("moisture of the culms", losses.culmMoistureWb);
  requireFraction("sum of the malting losses", totalLossDm(losses));
}

/** Part of clean dry matter that does not become malt. */
export function totalLossDm(
  losses: Pick<MaltingLosses, "steepLossDm" | "respirationLossDm" | "rootletLossDm">,
): number {
  return losses.steepLossDm + losses.respirationLossDm + losses.rootletLossDm;
}

/**
 * Balance of a run from the weight drawn from the bin, as it is. Malt dry matter is the remainder, so it
 * closes exactly.
 */
export function maltingBalance(massKg: number, losses: MaltingLosses): MaltingBalance {
  requireNotNegative("weight drawn from the bin in kilograms", massKg);
  check(losses);
  const screeningsKg = massKg * losses.screeningLoss;
  const cleanKg = massKg - screeningsKg;
  const dryMatterInKg = dryMatter(cleanKg, losses.moistureWb);
  const steepLossDmKg = dryMatterInKg * losses.steepLossDm;
  const respirationLossDmKg = dryMatterInKg * losses.respirationLossDm;
  const culmsDmKg = dryMatterInKg * losses.rootletLossDm;
  const maltDmKg = dryMatterInKg - steepLossDmKg - respirationLossDmKg - culmsDmKg;
  return {
    screeningsKg,
    cleanKg,
    dryMatterInKg,
    steepLossDmKg,
    respirationLossDmKg,
    culmsDmKg,
    culmsKg: culmsDmKg / (1 - losses.culmMoistureWb),
    co2Kg: respirationLossDmKg * CO2_KG_PER_STARCH_KG,
    maltDmKg,
    maltKg: maltDmKg / (1 - losses.maltMoistureWb),
  };
}

/** Clean grain in kg that has to be steeped to strip `maltKg` of finished malt. */
export function cleanKgFor(maltKg: number, losses: MaltingLosses): number {
  check(losses);
  return dryMatter(maltKg, losses.maltMoistureWb) / (1 - totalLossDm(losses)) / (1 - losses.moistureWb);
}

/** Grain in kg, as it is in the bin, that has to be drawn for `maltKg` of finished malt. */
export function grainForMalt(maltKg: number, losses: MaltingLosses): number {
  return cleanKgFor(maltKg, losses) / (1 - losses.screeningLoss);
}
