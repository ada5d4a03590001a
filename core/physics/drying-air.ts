/**
 * What outside air can carry off wet grain or green malt once it is warmed: the season's part in dryer and
 * kiln. The air gives up heat and takes up water along a line of constant wet bulb (adiabatic saturation), and
 * leaves nearly full. Heat lost through walls, and heat to warm the grain, are left out, so real air carries
 * somewhat less: NDSU's published figures for grain in bins are 10 to 20 % below. Below freezing it is far too
 * hopeful.
 */
import { requireBetween } from "./limits.ts";
import {
  enthalpyKj,
  humidityRatio,
  humidityRatioAtWetBulb,
  relativeHumidity,
  standardPressurePa,
  volumeM3PerKg,
  wetBulbC,
} from "./moist-air.ts";

const KJ_PER_KWH = 3600;

/** Relative humidity at which air leaves a deep wet bed, 0.95. Common practice, no source. */
export const LEAVING_HUMIDITY = 0.95;

/** Air before it is warmed. */
export interface OutsideAir {
  readonly tempC: number;
  /** Relative humidity, 0 to 1. */
  readonly relativeHumidity: number;
  readonly altitudeM: number;
}

/** What warmed air does to something wet. */
export interface DryingAir {
  /** Relative humidity of the air once warmed, before it meets anything wet. */
  readonly warmedHumidity: number;
  /** Temperature of the air that leaves. */
  readonly airOffC: number;
  /** Kilograms of water carried off by a cubic metre of air, measured before it was warmed. */
  readonly waterKgPerM3: number;
  /** Heat to warm the air for each kilogram of water it carries off. */
  readonly heatKWhPerKgWater: number;
}

/**
 * Outside air warmed to `airOnC` and sent through something wet, from which it leaves at `leavingHumidity`: for
 * a kiln at the start or a deep bin `LEAVING_HUMIDITY`, for grain no more than its own equilibrium humidity
 * (equilibrium.ts). Throws a RangeError when the air is to be cooled, or is too damp to take up anything.
 */
export function dryingAir(
  outside: OutsideAir,
  airOnC: number,
  leavingHumidity: number = LEAVING_HUMIDITY,
): DryingAir {
  requireBetween(
    "temperature of the drying air",
    airOnC,
    outside.tempC,
    120,
    "°C (outside air is the least)",
  );
  const pressurePa = standardPressurePa(outside.altitudeM);
  const before = humidityRatio(outside.tempC, outside.relativeHumidity, pressurePa);
  const warmedHumidity = relativeHumidity(airOnC, before, pressurePa);
  requireBetween(
    "humidity at which the air leaves",
    leavingHumidity,
    warmedHumidity,
    1,
    "(what it brings, to 1)",
  );
  const wetBulb = wetBulbC(airOnC, before, pressurePa);
  let low = wetBulb, high = airOnC;
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    const ratio = Math.max(0, humidityRatioAtWetBulb(middle, wetBulb, pressurePa));
    if (relativeHumidity(middle, ratio, pressurePa) > leavingHumidity) low = middle;
    else high = middle;
  }
  const airOffC = (low + high) / 2;
  const taken = humidityRatioAtWetBulb(airOffC, wetBulb, pressurePa) - before;
  const heatKj = enthalpyKj(airOnC, before) - enthalpyKj(outside.tempC, before);
  return {
    warmedHumidity,
    airOffC,
    waterKgPerM3: taken / volumeM3PerKg(outside.tempC, before, pressurePa),
    heatKWhPerKgWater: heatKj / KJ_PER_KWH / taken,
  };
}
