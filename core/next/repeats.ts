import { addDays, dayNumber } from "../calendar.ts";

/** Fifty-two whole weeks: what is repeated falls on the same weekday. */
const YEAR_OF_WEEKS_DAYS = 364;

/** From which year rows are taken, and up to which day they are repeated. */
export interface Span {
  /** The old season's last day. */
  readonly oldEnd: string;
  /** The new season's last day. */
  readonly newEnd: string;
}

/** Whether a day belongs to the last 52 weeks of the old season: what falls there is what a year looks like. */
export function isOfLastYear(on: string, { oldEnd }: Span): boolean {
  return on <= oldEnd && dayNumber(on) > dayNumber(oldEnd) - YEAR_OF_WEEKS_DAYS;
}

/** Days by which a row of `on` is moved, once for each repeat that begins inside the new season. */
export function repeatsOf(on: string, { newEnd }: Span): number[] {
  const count = Math.floor((dayNumber(newEnd) - dayNumber(on)) / YEAR_OF_WEEKS_DAYS);
  return Array.from({ length: Math.max(0, count) }, (_, i) => (i + 1) * YEAR_OF_WEEKS_DAYS);
}

/** A row's window, so many days later. */
export function movedWindow<T extends { readonly from: string; readonly to: string }>(
  row: T,
  days: number,
): T {
  return { ...row, from: addDays(row.from, days), to: addDays(row.to, days) };
}
