/**
 * How long damp malting barley lies before it stops germinating: NDSU Extension's table "Estimated allowable
 * storage time for malting barley" (2017, criterion germinability), in weeks. Germination goes before
 * mould shows. For grain on its way to the dryer; a lot in store with a laboratory result has the finer
 * viability equation (viability.ts), which is shorter at 13 to 15 %.
 */
import { requireBetween, requireFraction, requireNotNegative, requirePositive } from "./limits.ts";

const DAYS_PER_WEEK = 7;
const FIRST_MOISTURE_PERCENT = 11;
const LAST_MOISTURE_PERCENT = 19;
const FIRST_TEMP_F = 50;
const STEP_F = 10;

/** The longest time the table prints; where it prints a star the grain keeps longer, and this stands in. */
const MOST_WEEKS = 94;
const STAR = MOST_WEEKS;

/** Weeks, a row for 50, 60, 70 and 80 °F, a column for 11 to 19 % moisture. */
const WEEKS: readonly (readonly number[])[] = [
  [STAR, STAR, STAR, STAR, 90, 50, 20, 14, 8],
  [STAR, STAR, 94, 61, 37, 18, 9, 6, 3.5],
  [80, 60, 38, 25, 14, 7, 3.5, 2.5, 2],
  [32, 25, 16, 10, 5, 3, 1.5, 1, 1],
];
const LAST_TEMP_F = FIRST_TEMP_F + STEP_F * (WEEKS.length - 1);

/** Time spent at conditions in which the grain would keep `safeDays`. */
export interface StorageStay {
  readonly days: number;
  readonly safeDays: number;
}

/** Logarithm of a row's weeks at a moisture, straight between its columns: life falls by a share for each point. */
function logWeeks(row: readonly number[], column: number): number {
  const left = Math.min(Math.floor(column), row.length - 2);
  const part = column - left;
  return (1 - part) * Math.log(row[left]!) + part * Math.log(row[left + 1]!);
}

/**
 * Days malting barley keeps its germination at a moisture up to 19 % and a temperature up to 45 °C. Drier than
 * 11 % counts as 11 and cooler than 50 °F as 50, on the safe side, and no answer exceeds 94 weeks. Above 80 °F
 * life halves for each 10 °F, NDSU's rule of 2009. Throws a RangeError for wetter grain: NDSU prints nothing,
 * and such grain has a day or two.
 */
export function safeDays(moistureWb: number, tempC: number): number {
  requireBetween(
    "moisture of the grain",
    moistureWb,
    0,
    LAST_MOISTURE_PERCENT / 100,
    "(wetter grain: dry it today)",
  );
  requireBetween("temperature of the grain", tempC, -40, 45, "°C");
  const column = Math.max(0, moistureWb * 100 - FIRST_MOISTURE_PERCENT);
  const tempF = Math.max(FIRST_TEMP_F, tempC * 9 / 5 + 32);
  const row = (Math.min(tempF, LAST_TEMP_F) - FIRST_TEMP_F) / STEP_F;
  const cool = Math.min(Math.floor(row), WEEKS.length - 2);
  const part = row - cool;
  const log = (1 - part) * logWeeks(WEEKS[cool]!, column) + part * logWeeks(WEEKS[cool + 1]!, column);
  const hotter = Math.max(0, tempF - LAST_TEMP_F) / STEP_F;
  return Math.exp(log) * DAYS_PER_WEEK / 2 ** hotter;
}

/** Part of a lot's life that its stays have used up, 1 = all: life is cumulative (NDSU Extension 2019). */
export function lifeUsed(stays: readonly StorageStay[]): number {
  return stays.reduce((used, { days, safeDays }) => {
    requireNotNegative("days stored", days);
    requirePositive("days that are safe", safeDays);
    return used + days / safeDays;
  }, 0);
}

/** Days left where fresh grain would keep `safeDays`, after a part of the lot's life is used up. */
export function safeDaysLeft(used: number, safeDays: number): number {
  requireNotNegative("days that are safe", safeDays);
  if (used >= 1) return 0;
  requireFraction("life used up", used);
  return (1 - used) * safeDays;
}
