/** Numbers and days as a breach prints them: to the gram and the minute, because a breach may be one gram or one minute. */
import { type IsoDate, isoDate } from "../calendar.ts";
import { formatDay } from "../day-names.ts";

const FIRST_DAY = -719_528;
const LAST_DAY = 2_932_896;

/** The date of a day number; a day outside the calendar is shown as its nearest end, so that a breach never throws. */
export function isoDay(day: number): IsoDate {
  return isoDate(Math.min(Math.max(Math.round(day), FIRST_DAY), LAST_DAY));
}

/** A day number for people, "12 Feb 2027"; "never" for a day that does not come. */
export function dayWords(day: number): string {
  return Number.isFinite(day) ? formatDay(isoDay(day), undefined, "withYear") : "never";
}

/** A weight to the gram, in kilograms. */
export function massWords(massG: number): string {
  return `${spoken(massG / 1000, 3)} kg`;
}

/** A number for people with at most so many decimals. */
export function spoken(value: number, decimals = 2): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: decimals });
}

/** Money in the farm's currency, from cents. */
export function moneyWords(cents: number, currency: string): string {
  return `${(cents / 100).toLocaleString("en-US", { minimumFractionDigits: 2 })} ${currency}`;
}
