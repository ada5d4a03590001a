import { dayNumber, isoDate, monthOf, yearOf } from "../calendar.ts";
import type { ExplainedShortfall } from "./explanation.ts";
import { type Limit, LIMITS } from "./limits.ts";

/** A month of the calendar, by the day numbers of its first day and of the day after its last. */
export interface Month {
  readonly from: number;
  readonly to: number;
}

/** The months in which something falls short that ends when this limit is taken away; null: when no one thing is. */
export interface LimitRow {
  readonly limit: Limit | null;
  readonly months: readonly boolean[];
}

/** Twelve months, from that of a day on. */
export function twelveMonths(day: number): Month[] {
  const year = yearOf(day), month = monthOf(day);
  const first = (at: number) => {
    const shifted = month - 1 + at;
    const inYear = shifted % 12 + 1;
    return dayNumber(`${year + Math.floor(shifted / 12)}-${String(inYear).padStart(2, "0")}-01`);
  };
  return Array.from({ length: 12 }, (_, at) => ({ from: first(at), to: first(at + 1) }));
}

/** Which limit is felt in which month: a row for each limit that would end a shortfall of some month. */
export function limitMonths(shortfalls: readonly ExplainedShortfall[], months: readonly Month[]): LimitRow[] {
  const felt = shortfalls.filter((one) => one.isFelt);
  const rows = [...LIMITS, null].map((limit): LimitRow => ({
    limit,
    months: months.map(({ from, to }) =>
      felt.some((one) =>
        one.fromDay < to && one.toDay >= from &&
        (limit === null ? one.limits.length === 0 : one.limits.includes(limit))
      )
    ),
  }));
  return rows.filter((row) => row.months.includes(true));
}

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;

/** "Jan 2027" in the first place and where a year begins, else "Feb". */
export function monthWords({ from }: Month, at: number): string {
  const name = MONTHS[monthOf(from) - 1]!;
  return at === 0 || isoDate(from).slice(5, 7) === "01" ? `${name} ${yearOf(from)}` : name;
}
