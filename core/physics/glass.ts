/**
 * Volumes from kettle to glass. Losses follow one another, so what stays is multiplied; adding losses
 * overstates them.
 */
import { LITRES_PER_IMPERIAL_PINT, LITRES_PER_US_PINT, type ReaderUnits } from "../units.ts";
import { requireFraction, requireNotNegative } from "./limits.ts";

/**
 * Part of its volume that boiling wort loses on cooling, 0.04: from 100 to 20 °C water loses 3.99 % by its
 * density (Kell's equation), and Kunze's brewhouse yield (1962) counts 0.96.
 */
export const HOT_SHRINK_FRACTION = 0.04;

/** Litres of cold wort from litres measured boiling hot. */
export function coldVolumeL(hotVolumeL: number, shrinkFraction: number = HOT_SHRINK_FRACTION): number {
  return afterLossesL(hotVolumeL, [shrinkFraction]);
}

/** Part of the volume that is lost in all when stages that lose these fractions follow one another. */
export function compoundedLoss(lossFractions: readonly number[]): number {
  return 1 - lossFractions.reduce((kept, loss) => {
    requireFraction("loss of volume", loss);
    return kept * (1 - loss);
  }, 1);
}

function afterLossesL(volumeL: number, lossFractions: readonly number[]): number {
  requireNotNegative("volume in litres", volumeL);
  return volumeL * (1 - compoundedLoss(lossFractions));
}

/**
 * Litres of packaged beer from litres of cold wort, after the losses of tank, conditioning and packaging in
 * turn.
 */
export function packagedL(coldWortL: number, lossFractions: readonly number[]): number {
  return afterLossesL(coldWortL, lossFractions);
}

/** Pints poured from a volume of beer: US pints for US readers, imperial pints for metric ones. */
export function pints(volumeL: number, units: ReaderUnits): number {
  requireNotNegative("volume of beer in litres", volumeL);
  return volumeL / (units === "us" ? LITRES_PER_US_PINT : LITRES_PER_IMPERIAL_PINT);
}
