/**
 * Days and wall clock readings. A day is a whole number (days since 1970-01-01) or its text `YYYY-MM-DD`; a
 * hand-over is a wall clock reading on the farm (`YYYY-MM-DDTHH:MM`). Which instant a reading stands for is in
 * zone.ts, how a day is written for people in day-names.ts.
 */

/** A calendar day, `YYYY-MM-DD`, years 0000 to 9999. */
export type IsoDate = string;
/** What the clock on the farm's wall says, `YYYY-MM-DDTHH:MM`, without a zone. */
export type LocalTime = string;

/** Minutes in a day of the calendar; a day with a clock change is longer or shorter in elapsed time. */
export const DAY_MINUTES = 1440;
/** Days from 0000-03-01 to 1970-01-01. Years are counted from March so that the leap day comes last. */
const MARCH_ZERO = 719_468;
/** Days in the 400 years after which the Gregorian calendar repeats. */
const CYCLE_DAYS = 146_097;
const FIRST_DAY = -719_528;
const LAST_DAY = 2_932_896;
const LOCAL_PATTERN = /^(\d{4}-\d{2}-\d{2})T([01]\d|2[0-3]):([0-5]\d)$/;

/** Splits a day number into year, month 1..12 and day of the month 1..31. */
function civil(day: number): { year: number; month: number; dayOfMonth: number } {
  const shifted = day + MARCH_ZERO;
  const cycle = Math.floor(shifted / CYCLE_DAYS);
  const inCycle = shifted - cycle * CYCLE_DAYS;
  // The corrections take out the leap days before this one, so that every year counts 365 days.
  const leaps = Math.floor(inCycle / 1460) - Math.floor(inCycle / 36_524) + Math.floor(inCycle / 146_096);
  const yearInCycle = Math.floor((inCycle - leaps) / 365);
  const inYear = inCycle - daysBeforeMarchYear(yearInCycle);
  // From March on, months run 31 30 31 30 31 twice over: 153 days in five months.
  const marchMonth = Math.floor((5 * inYear + 2) / 153);
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  return {
    year: cycle * 400 + yearInCycle + (month <= 2 ? 1 : 0),
    month,
    dayOfMonth: inYear - Math.floor((153 * marchMonth + 2) / 5) + 1,
  };
}

function daysBeforeMarchYear(year: number): number {
  return 365 * year + Math.floor(year / 4) - Math.floor(year / 100) + Math.floor(year / 400);
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

function dayOrNaN(date: string): number {
  if (date.length !== 10 || date[4] !== "-" || date[7] !== "-") return NaN;
  const year = digits(date, 0, 4), month = digits(date, 5, 7), dayOfMonth = digits(date, 8, 10);
  // Read digit by digit, as a season has thousands of dates; what is no digit makes all of it NaN, which no comparison holds for.
  const exists = year >= 0 && month >= 1 && month <= 12 && dayOfMonth >= 1 &&
    dayOfMonth <= daysInMonth(year, month);
  if (!exists) return NaN;
  const marchYear = month <= 2 ? year - 1 : year;
  const marchMonth = month <= 2 ? month + 9 : month - 3;
  return daysBeforeMarchYear(marchYear) + Math.floor((153 * marchMonth + 2) / 5) + dayOfMonth - 1 -
    MARCH_ZERO;
}

/** The whole number that the characters from `from` to before `to` are the digits of, or NaN. */
function digits(text: string, from: number, to: number): number {
  let value = 0;
  for (let at = from; at < to; at++) {
    const digit = text.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) return NaN;
    value = value * 10 + digit;
  }
  return value;
}

/** True for the text of a day that exists: 2027-02-29 is not one. */
export function isIsoDate(text: string): boolean {
  return !Number.isNaN(dayOrNaN(text));
}

/** True for a wall clock reading `YYYY-MM-DDTHH:MM` on a day that exists, 00:00 to 23:59. */
export function isLocalTime(text: string): boolean {
  const parts = LOCAL_PATTERN.exec(text);
  return parts !== null && isIsoDate(parts[1]!);
}

/** Whole days from 1970-01-01 to the date. Throws a RangeError when there is no such day. */
export function dayNumber(date: IsoDate): number {
  const day = dayOrNaN(date);
  if (Number.isNaN(day)) throw new RangeError(`"${date}" is not a day; write it as 2027-01-18.`);
  return day;
}

/** The date of a day number. Throws a RangeError outside the years 0000 to 9999. */
export function isoDate(day: number): IsoDate {
  if (!Number.isInteger(day) || day < FIRST_DAY || day > LAST_DAY) {
    throw new RangeError(`${day} is not a day number; days are whole and lie in the years 0000 to 9999.`);
  }
  const { year, month, dayOfMonth } = civil(day);
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(dayOfMonth)}`;
}

function two(value: number): string {
  return value < 10 ? `0${value}` : `${value}`;
}

/** The date `days` later (earlier when negative). */
export function addDays(date: IsoDate, days: number): IsoDate {
  return isoDate(dayNumber(date) + days);
}

/** Day of the week, Monday = 1 to Sunday = 7. */
export function weekday(day: number): number {
  // Day 0, 1970-01-01, was a Thursday.
  return ((day + 3) % 7 + 7) % 7 + 1;
}

/** Month of a day number, January = 1 to December = 12. */
export function monthOf(day: number): number {
  return civil(day).month;
}

/** The first day of the month after a day's. */
export function nextMonthFrom(day: number): number {
  const { year, month, dayOfMonth } = civil(day);
  return day - dayOfMonth + 1 + daysInMonth(year, month);
}

/** Calendar year of a day number. */
export function yearOf(day: number): number {
  return civil(day).year;
}

/** Minutes of the clock from 1970-01-01T00:00 to a wall clock reading. Throws a RangeError when it is not one. */
export function wallMinutes(local: LocalTime): number {
  const parts = LOCAL_PATTERN.exec(local);
  const day = parts === null ? NaN : dayOrNaN(parts[1]!);
  if (Number.isNaN(day)) {
    throw new RangeError(`"${local}" is not a clock reading; write it as 2027-01-18T07:30.`);
  }
  return day * DAY_MINUTES + Number(parts![2]) * 60 + Number(parts![3]);
}

/** The wall clock reading so many minutes of the clock after 1970-01-01T00:00. */
export function readingOf(wall: number): LocalTime {
  const day = Math.floor(wall / DAY_MINUTES);
  return localTime(isoDate(day), wall - day * DAY_MINUTES);
}

/** The day of a wall clock reading. */
export function dateOf(local: LocalTime): IsoDate {
  wallMinutes(local);
  return local.slice(0, 10);
}

/** Minutes on the clock since 00:00 of the reading's day, 0 to 1439. */
export function minuteOf(local: LocalTime): number {
  const wall = wallMinutes(local);
  return wall - Math.floor(wall / DAY_MINUTES) * DAY_MINUTES;
}

/** Minutes of the clock since 00:00 of a time of day `HH:MM`; 1440 for `24:00`, the end of the day. */
export function minuteOfTime(time: string): number {
  return Number(time.slice(0, 2)) * 60 + Number(time.slice(3));
}

/** The wall clock reading of a date and a minute of the clock, 0 to 1439. */
export function localTime(date: IsoDate, minute: number): LocalTime {
  checkMinute(minute);
  return `${date}T${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
}

/** Throws a RangeError when this is not a minute of the clock, 0 to 1439. */
export function checkMinute(minute: number): void {
  if (!Number.isInteger(minute) || minute < 0 || minute >= DAY_MINUTES) {
    throw new RangeError(`${minute} is not a minute of the clock; it is a whole number from 0 to 1439.`);
  }
}
