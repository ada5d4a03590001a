import { dayNumber, type IsoDate } from "./calendar.ts";

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
  const year = Number(date.slice(0, 4)), dayOfMonth = Number(date.slice(8));
  const parts = namesIn(locale, style === "long" ? "long" : "short").formatToParts(day * 86_400_000);
  const name = (type: "weekday" | "month") => parts.find((part) => part.type === type)!.value;
  if (style === "long") return `${name("weekday")} ${dayOfMonth} ${name("month")} ${year}`;
  return style === "withYear" ? `${dayOfMonth} ${name("month")} ${year}` : `${dayOfMonth} ${name("month")}`;
}
