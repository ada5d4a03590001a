/**
 * What a weight of grain becomes when it is dried, wetted, handled and cleaned. The rule of all of it: dry
 * matter stays, water comes and goes. Moistures are fractions of the wet weight (`Wb`).
 */
import { requireFraction, requireNotNegative } from "./limits.ts";

/**
 * Part of the weight before drying that is lost in handling (dust, broken corns, spill), 0.005. Common
 * practice in the grain trade, no source.
 */
export const HANDLING_LOSS_FRACTION = 0.005;

/** Dry matter in kg of a weight at a moisture. */
export function dryMatter(massKg: number, moistureWb: number): number {
  requireNotNegative("weight in kilograms", massKg);
  requireFraction("moisture on wet basis", moistureWb);
  return massKg * (1 - moistureWb);
}

/**
 * Weight in kg after wetting or drying to another moisture, with the dry matter unchanged (steeping uses it
 * too).
 */
export function massAtMoisture(massKg: number, fromWb: number, toWb: number): number {
  requireFraction("moisture to be reached", toWb);
  return dryMatter(massKg, fromWb) / (1 - toWb);
}

/**
 * Weight in kg after drying. Throws a RangeError when the grain is already drier than the moisture asked for.
 */
export function dryToMoisture(massKg: number, fromWb: number, toWb: number): number {
  if (toWb > fromWb) {
    throw new RangeError(
      `Drying cannot take grain from ${fromWb} to ${toWb}: it is already drier. Use its own moisture instead.`,
    );
  }
  return massAtMoisture(massKg, fromWb, toWb);
}

/** Part of the weight lost for each point (0.01) of moisture dried off, when drying ends at `toWb`. */
export function shrinkPerPoint(toWb: number): number {
  requireFraction("moisture to be reached", toWb);
  return 0.01 / (1 - toWb);
}

/**
 * Weight in kg after drying and handling; the handling loss is counted on the weight before drying, as the
 * trade does.
 */
export function dryAndHandle(
  massKg: number,
  fromWb: number,
  toWb: number,
  handlingLossFraction: number = HANDLING_LOSS_FRACTION,
): number {
  requireFraction("handling loss", handlingLossFraction);
  return dryToMoisture(massKg, fromWb, toWb) - massKg * handlingLossFraction;
}

/** Weight in kg that stays in the bin after the intake clean has taken a fraction of what came in. */
export function intakeClean(massKg: number, lossFraction: number): number {
  requireNotNegative("weight in kilograms", massKg);
  requireFraction("loss at the intake clean", lossFraction);
  return massKg * (1 - lossFraction);
}
