/**
 * Moist air, for dryer and kiln: ASHRAE, Handbook - Fundamentals (2017), chapter 1, as a perfect gas mixture.
 * The handbook puts its own error below 0.7 %. Humidity ratios are kilograms of water vapour for each
 * kilogram of dry air, relative humidities fractions, pressures in Pa. All constants are the chapter's.
 */
import { requireBetween, requireFraction, requireNotNegative } from "./limits.ts";

const KELVIN = 273.15;
/** Weight of a molecule of water over that of dry air. */
const WATER_OVER_AIR = 0.621945;
/** Gas constant of dry air in J/(kg K). */
const DRY_AIR_GAS = 287.042;

/** Pressure of the standard atmosphere in Pa at an altitude from -500 to 5,000 m (equation 3). */
export function standardPressurePa(altitudeM: number): number {
  requireBetween("altitude", altitudeM, -500, 5000, "m");
  return 101_325 * (1 - 2.25577e-5 * altitudeM) ** 5.2559;
}

/** Pressure in Pa of saturated vapour over ice or water, from -60 to 150 °C (equations 5 and 6). */
export function saturationPressurePa(tempC: number): number {
  requireBetween("air temperature", tempC, -60, 150, "°C");
  const t = tempC + KELVIN;
  const lnPa = tempC <= 0
    ? -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t ** 2 + 2.0747825e-9 * t ** 3 -
      9.484024e-13 * t ** 4 + 4.1635019 * Math.log(t)
    : -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t ** 2 - 1.4452093e-8 * t ** 3 +
      6.5459673 * Math.log(t);
  return Math.exp(lnPa);
}

/** Humidity ratio of air of a temperature and relative humidity (equations 12 and 20). */
export function humidityRatio(tempC: number, relativeHumidity: number, pressurePa: number): number {
  requireBetween("relative humidity", relativeHumidity, 0, 1, "(0.65 for 65 %)");
  const vapourPa = relativeHumidity * saturationPressurePa(tempC);
  requireFraction("vapour's share of the air's pressure", vapourPa / pressurePa);
  return WATER_OVER_AIR * vapourPa / (pressurePa - vapourPa);
}

/** Relative humidity of air of a temperature and humidity ratio; above 1 there would be fog. */
export function relativeHumidity(tempC: number, ratio: number, pressurePa: number): number {
  requireNotNegative("humidity ratio", ratio);
  return pressurePa * ratio / (WATER_OVER_AIR + ratio) / saturationPressurePa(tempC);
}

/** Heat content in kJ for each kilogram of dry air, counted from 0 °C and liquid water (equation 30). */
export function enthalpyKj(tempC: number, ratio: number): number {
  return 1.006 * tempC + ratio * (2501 + 1.86 * tempC);
}

/** Cubic metres that hold one kilogram of dry air and its vapour (equation 26). */
export function volumeM3PerKg(tempC: number, ratio: number, pressurePa: number): number {
  return DRY_AIR_GAS * (tempC + KELVIN) * (1 + 1.607858 * ratio) / pressurePa;
}

/** Humidity ratio of air of a temperature whose wet bulb shows `wetBulbC` (equations 33 and 35). */
export function humidityRatioAtWetBulb(tempC: number, wetBulbC: number, pressurePa: number): number {
  const saturated = humidityRatio(wetBulbC, 1, pressurePa);
  return wetBulbC >= 0
    ? ((2501 - 2.326 * wetBulbC) * saturated - 1.006 * (tempC - wetBulbC)) /
      (2501 + 1.86 * tempC - 4.186 * wetBulbC)
    : ((2830 - 0.24 * wetBulbC) * saturated - 1.006 * (tempC - wetBulbC)) /
      (2830 + 1.86 * tempC - 2.1 * wetBulbC);
}

/** What a wet bulb shows in air of a temperature and humidity ratio, by halving the interval. */
export function wetBulbC(tempC: number, ratio: number, pressurePa: number): number {
  let low = -60, high = tempC;
  // Each round halves what is left of at most 210 °C; forty leave nothing that matters.
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (humidityRatioAtWetBulb(tempC, middle, pressurePa) > ratio) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
