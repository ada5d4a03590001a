/**
 * Time zones: which instant (minutes since 1970-01-01T00:00Z) the farm's clock shows as which reading. Lengths of
 * stages are elapsed time, so a clock change moves the later wall reading and never the length. No other file
 * imports a date library.
 */
import { tzOffset } from "@date-fns/tz";
import { checkMinute, DAY_MINUTES, type LocalTime, readingOf, wallMinutes } from "./calendar.ts";

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
