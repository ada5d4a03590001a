import { dayNumber, type IsoDate } from "./calendar.ts";

/** Names of a locale by weekday or month, each asked of the runtime once: its formatters are slow, and a year is full of days. */
const names = new Map<string, string>();

function nameOf(part: "weekday" | "month", day: number, locale: string, length: "short" | "long"): string {
  const date = new Date(day * 86_400_000);
  const key = `${locale} ${length} ${part} ${part === "weekday" ? date.getUTCDay() : date.getUTCMonth()}`;
  let name = names.get(key);
  if (name === undefined) {
    // Asked for with its neighbours, because some languages bend a month's name that follows a number.
    const options = { weekday: "long", day: "numeric", month: length, timeZone: "UTC" } as const;
    const parts = new Intl.DateTimeFormat(locale, options).formatToParts(date);
    names.set(key, name = parts.find(({ type }) => type === part)!.value);
  }
  return name;
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
  const year = Number(date.slice(0, 4)), dayOfMonth = Number(date.slice(8));
  const month = nameOf("month", day, locale, style === "long" ? "long" : "short");
  if (style === "long") return `${nameOf("weekday", day, locale, "long")} ${dayOfMonth} ${month} ${year}`;
  return style === "withYear" ? `${dayOfMonth} ${month} ${year}` : `${dayOfMonth} ${month}`;
}
