/**
 * How germination falls in store: the seed viability equation of Ellis and Roberts (1980),
 *
 *     v = Ki - p / sigma,   log10 sigma = KE - CW log10 m - CH t - CQ t²
 *
 * with v and Ki in normal deviates, p and sigma in days, m the moisture in % wet basis, t in °C. Life used up in
 * changing conditions adds as p / sigma.
 *
 * Against the storage life of malting barley that NDSU Extension prints, these barley constants are about right
 * at 16 to 17 % moisture and short by up to a half at 14 %, on the safe side. For wheat at 17 to 19 % a storage
 * trial (Karunakaran and others 2001) lost germination about twice as fast as these constants say: damp wheat
 * needs its own tests.
 */
import { monthOf, nextMonthFrom } from "../calendar.ts";
import type { GrainCrop } from "../units.ts";
import { requireBetween, requireNotNegative } from "./limits.ts";
import { normalArea, normalDeviate } from "./normal.ts";

/** Constants of one species. */
export interface ViabilityConstants {
  readonly kE: number;
  readonly cW: number;
  readonly cH: number;
  readonly cQ: number;
  /** Where the constants come from, in words to be shown beside a result. */
  readonly source: string;
}

const BARLEY = { kE: 9.144, cW: 5.342, cH: 0.0329, cQ: 0.000478 } as const;

/** Constants by crop. Values from the data set of viability constants of the R package viabilitymetrics. */
export const VIABILITY: Readonly<Record<GrainCrop, ViabilityConstants>> = {
  barley: { ...BARLEY, source: "Ellis and Roberts 1980, Dickie and others 1990" },
  wheat: { kE: 9.043, cW: 5.183, cH: 0.0351, cQ: 0.000475, source: "viability constants, wheat" },
  rye: { kE: 6.361, cW: 2.059, cH: 0.03, cQ: 0.000201, source: "viability constants, rye: a poor fit" },
  oats: { ...BARLEY, source: "barley's constants, for want of any for oats: common practice, no source" },
};

/**
 * A test of 100 corns cannot tell 100 % from 99.5 %, nor 0 % from 0.5 %, and the equation has no life span for either. What is
 * beyond these is taken as these. Our choice, no source.
 */
const MOST_FRACTION = 0.995;
const LEAST_FRACTION = 0.005;

function deviateOfTest(fraction: number): number {
  return normalDeviate(Math.min(Math.max(fraction, LEAST_FRACTION), MOST_FRACTION));
}

/**
 * Standard deviation of seed deaths in days at 5 to 25 % moisture and -20 to 90 °C; outside it throws a
 * RangeError.
 */
export function sigmaDays(constants: ViabilityConstants, moistureWbPercent: number, tempC: number): number {
  requireBetween("moisture of stored grain", moistureWbPercent, 5, 25, "% wet basis");
  requireBetween("temperature of stored grain", tempC, -20, 90, "°C");
  const { kE, cW, cH, cQ } = constants;
  return 10 ** (kE - cW * Math.log10(moistureWbPercent) - cH * tempC - cQ * tempC * tempC);
}

/**
 * Fraction that germinates after so many days in constant conditions, from the fraction at their start (0 to
 * 1, both excluded).
 */
export function viabilityAfter(
  constants: ViabilityConstants,
  startFraction: number,
  days: number,
  moistureWbPercent: number,
  tempC: number,
): number {
  requireNotNegative("number of days in store", days);
  return normalArea(normalDeviate(startFraction) - days / sigmaDays(constants, moistureWbPercent, tempC));
}

/**
 * Days in constant conditions until germination has fallen from one fraction to another; 0 when it is already
 * lower.
 */
export function daysUntilViability(
  constants: ViabilityConstants,
  startFraction: number,
  endFraction: number,
  moistureWbPercent: number,
  tempC: number,
): number {
  const deviates = normalDeviate(startFraction) - normalDeviate(endFraction);
  return Math.max(0, deviates * sigmaDays(constants, moistureWbPercent, tempC));
}

/**
 * The last day, not after `limitDay`, on which germination is still at least `leastFraction`, in a store
 * whose grain has the temperatures of `monthTempC` (January first). The start fraction was measured on
 * `startDay`. When it was already too low, the answer is the day before `startDay`. Days are day numbers of
 * core/calendar.ts.
 */
export function lastDayAbove(
  startDay: number,
  startGerminativeFraction: number,
  leastFraction: number,
  moistureWb: number,
  monthTempC: readonly number[],
  crop: GrainCrop,
  limitDay: number,
): number {
  if (monthTempC.length !== 12) {
    throw new RangeError(`Grain temperatures are needed for 12 months, but ${monthTempC.length} are given.`);
  }
  if (limitDay < startDay) {
    throw new RangeError("The last day looked at lies before the day the germination was measured.");
  }
  const start = deviateOfTest(startGerminativeFraction);
  const lifeADay = monthTempC.map((tempC) => 1 / sigmaDays(VIABILITY[crop], moistureWb * 100, tempC));
  let left = start - deviateOfTest(leastFraction);
  if (left < 0) return startDay - 1;
  let day = startDay;
  while (day < limitDay) {
    const end = Math.min(nextMonthFrom(day), limitDay);
    const life = lifeADay[monthOf(day) - 1]!;
    const daysLeft = Math.floor(left / life);
    if (daysLeft < end - day) return day + daysLeft;
    left -= (end - day) * life;
    day = end;
  }
  return day;
}
