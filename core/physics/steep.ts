/**
 * Steeping: the water grain takes up, how fast, and the room it then fills.
 *
 * Uptake after Peleg (1988, form from memory): M(t) = M0 + t / (k1 + k2 t), moistures on dry basis. 1 / k1 is
 * the first rate, 1 / k2 what grain gains in the end. No constants for whole malting barley could be read, and
 * corn size, variety and water temperature change them: a farm fits its own from two weighings of one steep.
 */
import { requireBetween, requireFraction, requireNotNegative, requirePositive } from "./limits.ts";
import { massAtMoisture } from "./shrink.ts";

/**
 * How many times its dry volume malting grain fills once steeped, 1.4: a laboratory's 1.43 (J. Agr. Sci. Tech.,
 * 42 % moisture) and a vessel's 1.39 (Cereals Processing Technology, p. 193). Encyclopaedias print 1.18 to 1.25.
 */
export const SWELL_RATIO = 1.4;

/** One weighing in the steep: hours under way, air rests included, and moisture by then. */
export interface SteepPoint {
  readonly hours: number;
  readonly moistureWb: number;
}

/** A farm's uptake: k1 in hours by unit of dry-basis moisture, k2 in units of dry-basis moisture. */
export interface SteepUptake {
  readonly startWb: number;
  readonly k1Hours: number;
  readonly k2: number;
}

function dryBasis(moistureWb: number): number {
  requireFraction("moisture on wet basis", moistureWb);
  return moistureWb / (1 - moistureWb);
}

/** Kilograms of water that grain takes up between two moistures. */
export function steepWaterKg(massKg: number, fromWb: number, toWb: number): number {
  requireBetween("moisture after steeping", toWb, fromWb, 0.6, "(grain only gains water in the steep)");
  return massAtMoisture(massKg, fromWb, toWb) - massKg;
}

/**
 * Uptake through two weighings of one steep, the earlier first. Throws a RangeError when they are no uptake that
 * slows down: then one of them was misread.
 */
export function fitUptake(startWb: number, first: SteepPoint, second: SteepPoint): SteepUptake {
  requirePositive("hours to the first weighing", first.hours);
  requirePositive("hours between the weighings", second.hours - first.hours);
  const start = dryBasis(startWb);
  const perGain = ({ hours, moistureWb }: SteepPoint) => hours / (dryBasis(moistureWb) - start);
  const k2 = (perGain(second) - perGain(first)) / (second.hours - first.hours);
  const k1Hours = perGain(first) - k2 * first.hours;
  if (!(k2 > 0 && k1Hours > 0)) {
    throw new RangeError(
      "The two weighings do not show grain that takes up water, first fast and then slower.",
    );
  }
  return { startWb, k1Hours, k2 };
}

/** Moisture (wet basis) after so many hours of steep. */
export function steepMoistureWb(uptake: SteepUptake, hours: number): number {
  requireNotNegative("hours in steep", hours);
  const reached = dryBasis(uptake.startWb) + hours / (uptake.k1Hours + uptake.k2 * hours);
  return reached / (1 + reached);
}

/** Hours of steep to a moisture. Throws a RangeError when this grain would never reach it. */
export function steepHoursTo(uptake: SteepUptake, targetWb: number): number {
  const gain = dryBasis(targetWb) - dryBasis(uptake.startWb);
  requireNotNegative("moisture still to be gained", gain);
  const left = 1 - uptake.k2 * gain;
  if (left <= 0) {
    throw new RangeError(`Grain with this uptake never reaches ${targetWb} moisture; check the weighings.`);
  }
  return uptake.k1Hours * gain / left;
}

/** Litres that clean grain, as weighed before steeping, fills once it has swollen. */
export function steepedVolumeL(
  massKg: number,
  testWeightKgPerHl: number,
  swell: number = SWELL_RATIO,
): number {
  requireNotNegative("weight in kilograms", massKg);
  requirePositive("test weight in kilograms a hectolitre", testWeightKgPerHl);
  requireBetween("swell ratio", swell, 1, 2, "times the dry volume");
  return massKg / testWeightKgPerHl * 100 * swell;
}
