/**
 * What a round bin holds. Test weight decides the tonnes; packing under its own weight is left out, on the
 * safe side.
 */
import { requireBetween, requireNotNegative, requirePositive } from "./limits.ts";

const LITRES_PER_M3 = 1000;

/**
 * Litres of a round bin filled level, from its inside diameter and the depth of the grain at the wall, in
 * metres.
 */
export function levelVolumeL(diameterM: number, depthM: number): number {
  requirePositive("bin diameter in metres", diameterM);
  requireNotNegative("depth of grain in metres", depthM);
  return Math.PI / 4 * diameterM ** 2 * depthM * LITRES_PER_M3;
}

/**
 * Litres of a round bin filled at its centre: the level part and a cone on top whose slope is the grain's
 * angle of repose in degrees. Barley and oats about 28, wheat 25: common practice, no source (sources read
 * run from 20 to 46).
 */
export function peakedVolumeL(diameterM: number, depthM: number, reposeDeg: number): number {
  requireBetween("angle of repose", reposeDeg, 0, 60, "degrees");
  const peakM = diameterM / 2 * Math.tan(reposeDeg * Math.PI / 180);
  return levelVolumeL(diameterM, depthM) + levelVolumeL(diameterM, peakM) / 3;
}

/** Kilograms that fit into a volume at a test weight. */
export function capacityKg(volumeL: number, testWeightKgPerHl: number): number {
  requireNotNegative("volume in litres", volumeL);
  requirePositive("test weight in kilograms a hectolitre", testWeightKgPerHl);
  return volumeL / 100 * testWeightKgPerHl;
}
