import { dayNumber, type IsoDate } from "../../core/calendar.ts";

/**
 * The measures of the section. One unit is one pixel when the drawing stands at its natural width, and about a fifth
 * of a millimetre on a landscape sheet.
 */
export const WIDTH = 1310;
/** Where names begin and where numbers end, left of the time axis. */
export const NAMES = 0;
export const NUMBERS = 140;
/** Where time begins and ends. */
export const TIME_LEFT = 148;
export const TIME_RIGHT = WIDTH;

/** One axis for all bands: days to units of the drawing. */
export interface Frame {
  readonly fromDay: number;
  /** First day after the last one shown. */
  readonly toDay: number;
  readonly todayDay: number;
  readonly left: number;
  readonly right: number;
  /** Units of one day. */
  readonly dayWidth: number;
  /** Place of a day number (fractions of a day allowed), held inside the axis. */
  x(day: number): number;
  /** Place of the start of a date. */
  at(date: IsoDate): number;
}

/** The axis that shows `fromDay` up to, but without, `toDay`. Throws a RangeError when nothing lies between. */
export function frameOf(
  fromDay: number,
  toDay: number,
  todayDay: number,
  left = TIME_LEFT,
  right = TIME_RIGHT,
): Frame {
  if (!(toDay > fromDay)) throw new RangeError("The section needs at least one day between its two ends.");
  const dayWidth = (right - left) / (toDay - fromDay);
  const x = (day: number) => left + Math.min(Math.max(day - fromDay, 0), toDay - fromDay) * dayWidth;
  return { fromDay, toDay, todayDay, left, right, dayWidth, x, at: (date) => x(dayNumber(date)) };
}

/** A coordinate as it is written into the drawing: a tenth of a pixel is all that a screen or a printer shows. */
export function c(value: number): number {
  return Math.round(value * 10) / 10;
}
