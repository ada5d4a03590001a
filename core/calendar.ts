/**
 * Days, wall clocks and time zones. All date arithmetic of the program is here, and no other file imports a
 * date library.
 *
 * A day is a whole number (days since 1970-01-01) or its text `YYYY-MM-DD`; a hand-over is a wall clock
 * reading on the farm (`YYYY-MM-DDTHH:MM`) or the minute it stands for (minutes since 1970-01-01T00:00Z).
 * Lengths of stages are elapsed time, so a clock change moves the later wall reading and never the length.
 */
import { tzOffset } from "@date-fns/tz";

/** A calendar day, `YYYY-MM-DD`, years 0000 to 9999. */
export type IsoDate = string;
/** What the clock on the farm's wall says, `YYYY-MM-DDTHH:MM`, without a zone. */
export type LocalTime = string;

/** Minutes in a day of the calendar; a day with a clock change is longer or shorter in elapsed time. */
const DAY_MINUTES = 1440;
/** Days from 0000-03-01 to 1970-01-01. Years are counted from March so that the leap day comes last. */
const MARCH_ZERO = 719_468;
/** Days in the 400 years after which the Gregorian calendar repeats. */
const CYCLE_DAYS = 146_097;
const FIRST_DAY = -719_528;
const LAST_DAY = 2_932_896;
const DATE_PATTERN = /^(\d{4})-(\d{2})-(\d{2})$/;
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
  const parts = DATE_PATTERN.exec(date);
  if (parts === null) return NaN;
  const year = Number(parts[1]), month = Number(parts[2]), dayOfMonth = Number(parts[3]);
  if (month < 1 || month > 12 || dayOfMonth < 1 || dayOfMonth > daysInMonth(year, month)) return NaN;
  const marchYear = month <= 2 ? year - 1 : year;
  const marchMonth = month <= 2 ? month + 9 : month - 3;
  return daysBeforeMarchYear(marchYear) + Math.floor((153 * marchMonth + 2) / 5) + dayOfMonth - 1 -
    MARCH_ZERO;
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

/** Days from one date to another; negative when `to` is earlier. */
export function daysBetween(from: IsoDate, to: IsoDate): number {
  return dayNumber(to) - dayNumber(from);
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

/** Calendar year of a day number. */
export function yearOf(day: number): number {
  return civil(day).year;
}

function wallMinutes(local: LocalTime): number {
  const parts = LOCAL_PATTERN.exec(local);
  const day = parts === null ? NaN : dayOrNaN(parts[1]!);
  if (Number.isNaN(day)) {
    throw new RangeError(`"${local}" is not a clock reading; write it as 2027-01-18T07:30.`);
  }
  return day * DAY_MINUTES + Number(parts![2]) * 60 + Number(parts![3]);
}

function readingOf(wall: number): LocalTime {
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

/** The wall clock reading of a date and a minute of the clock, 0 to 1439. */
export function localTime(date: IsoDate, minute: number): LocalTime {
  checkMinute(minute);
  return `${date}T${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
}

function checkMinute(minute: number): void {
  if (!Number.isInteger(minute) || minute < 0 || minute >= DAY_MINUTES) {
    throw new RangeError(`${minute} is not a minute of the clock; it is a whole number from 0 to 1439.`);
  }
}

/** Offset from UTC during one UTC day: `before` until the minute `turn`, `after` from it on. */
interface OffsetDay {
  readonly turn: number;
  readonly before: number;
  readonly after: number;
}

/**
 * Asking the runtime for an offset costs microseconds, so each zone remembers the UTC days it was asked
 * about.
 */
const offsetDays = new Map<string, Map<number, OffsetDay>>();
/**
 * A server lives for months and reads dates that people type; beyond this many days a zone forgets and starts
 * again.
 */
const MOST_DAYS_KEPT = 50_000;

function askOffset(zone: string, epochMinute: number): number {
  return Math.round(tzOffset(zone, new Date(epochMinute * 60_000)));
}

function daysOfZone(zone: string): Map<number, OffsetDay> {
  let days = offsetDays.get(zone);
  if (days === undefined) {
    if (!isZone(zone)) {
      throw new RangeError(
        `"${zone}" is not a time zone known here; use an IANA name such as Europe/Dublin.`,
      );
    }
    offsetDays.set(zone, days = new Map());
  }
  return days;
}

/**
 * The offsets of one UTC day. No zone changes its clock twice in two days, so one turn is all a day can hold.
 */
function offsetDay(zone: string, day: number): OffsetDay {
  const days = daysOfZone(zone);
  let found = days.get(day);
  if (found === undefined) {
    if (days.size >= MOST_DAYS_KEPT) days.clear();
    let low = day * DAY_MINUTES - 1, high = low + DAY_MINUTES;
    const before = askOffset(zone, low), after = askOffset(zone, high);
    while (before !== after && high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      if (askOffset(zone, middle) === before) low = middle;
      else high = middle;
    }
    days.set(day, found = { turn: before === after ? Infinity : high, before, after });
  }
  return found;
}

function offsetAt(zone: string, epochMinute: number): number {
  const { turn, before, after } = offsetDay(zone, Math.floor(epochMinute / DAY_MINUTES));
  return epochMinute < turn ? before : after;
}

/**
 * True for an IANA zone name the runtime knows, such as `Europe/Dublin` or `UTC`; bare offsets are not names.
 */
export function isZone(zone: string): boolean {
  return /^[A-Za-z]/.test(zone) && !Number.isNaN(tzOffset(zone, new Date(0)));
}

/**
 * The epoch minute at which the farm's clock shows minute 0..1439 of a day. A reading the clock skips means
 * the first moment after the gap; a reading it shows twice means the first time.
 */
export function instantOf(zone: string, day: number, minute: number): number {
  checkMinute(minute);
  const wall = day * DAY_MINUTES + minute;
  // Offsets lie within 14 hours, so the day before and the day after surely enclose the instant that is
  // sought.
  const before = offsetDay(zone, day - 1).before, after = offsetDay(zone, day + 1).after;
  if (before === after) return wall - before;
  const turn = Math.min(...[day - 1, day, day + 1].map((near) => offsetDay(zone, near).turn));
  if (wall - before < turn) return wall - before;
  return Math.max(wall - after, turn);
}

/** The epoch minute of a wall clock reading; see `instantOf` for skipped and repeated readings. */
export function instant(zone: string, local: LocalTime): number {
  const wall = wallMinutes(local);
  const day = Math.floor(wall / DAY_MINUTES);
  return instantOf(zone, day, wall - day * DAY_MINUTES);
}

/** What the farm's clock shows at an epoch minute. */
export function wallTime(zone: string, epochMinute: number): LocalTime {
  return readingOf(epochMinute + offsetAt(zone, epochMinute));
}

/** The day number the farm's calendar shows at an epoch minute. */
export function localDay(zone: string, epochMinute: number): number {
  return Math.floor((epochMinute + offsetAt(zone, epochMinute)) / DAY_MINUTES);
}

/** The wall clock reading after so many hours have really passed, to the nearest minute. */
export function addElapsedHours(zone: string, local: LocalTime, hours: number): LocalTime {
  return wallTime(zone, instant(zone, local) + Math.round(hours * 60));
}

/** Hours that really pass between two wall clock readings; negative when `to` comes first. */
export function elapsedHours(zone: string, from: LocalTime, to: LocalTime): number {
  return (instant(zone, to) - instant(zone, from)) / 60;
}

/**
 * Names of days and months come from the runtime's locale data; making a formatter is slow, so each is kept.
 */
const formatters = new Map<string, Intl.DateTimeFormat>();

function namesIn(locale: string, length: "short" | "long"): Intl.DateTimeFormat {
  const key = `${locale} ${length}`;
  let formatter = formatters.get(key);
  if (formatter === undefined) {
    const options = { weekday: "long", day: "numeric", month: length, timeZone: "UTC" } as const;
    formatters.set(key, formatter = new Intl.DateTimeFormat(locale, options));
  }
  return formatter;
}

/**
 * A day for people, always in the order day, month, year: short "12 Feb", withYear "12 Feb 2027", long
 * "Monday 18 January 2027". The locale gives the names. The default is US English because its month names all
 * have three letters.
 */
export function formatDay(
  date: IsoDate,
  locale: string = "en-US",
  style: "short" | "long" | "withYear" = "short",
): string {
  const day = dayNumber(date);
  const { year, dayOfMonth } = civil(day);
  const parts = namesIn(locale, style === "long" ? "long" : "short").formatToParts(day * 86_400_000);
  const name = (type: "weekday" | "month") => parts.find((part) => part.type === type)!.value;
  if (style === "long") return `${name("weekday")} ${dayOfMonth} ${name("month")} ${year}`;
  return style === "withYear" ? `${dayOfMonth} ${name("month")} ${year}` : `${dayOfMonth} ${name("month")}`;
}
