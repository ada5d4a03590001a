import { dayNumber, isoDate, yearOf } from "../calendar.ts";
import { pints } from "../physics/glass.ts";
import type { Season } from "../season/season.ts";
import { countWords, tonneWords } from "../year/words.ts";
import type { ExplainedOdds, ExplainedYear } from "./explanation.ts";
import { firstAwakeDay, type HarvestYear } from "./harvest-years.ts";
import { type Month, monthWords } from "./limit-months.ts";
import { type DrawnYear, YEARS } from "./odds.ts";

/** Grain so light is nothing to speak of. */
const TRIFLE_G = 50_000;
/** Forecasts are no better than that many pints. */
const PINTS = 100;

/** What one kind of year carries, in words. */
export function yearWords(season: Season, year: HarvestYear): ExplainedYear {
  const { kind, cutG, homeL, leftL, lastsToDay, noRoomG, shortDays } = year;
  const first = shortDays[0] ?? null;
  const count = (litres: number) =>
    (Math.round(pints(litres, season.readerUnits) / PINTS) * PINTS).toLocaleString("en-US");
  return {
    kind,
    cut: tonneWords(cutG),
    pints: count(homeL + leftL),
    shown: count(homeL),
    lastsTo: lastsToDay === null ? "" : monthOfDay(lastsToDay),
    short: first === null
      ? "all made as promised"
      : `${countWords(shortDays.length, "brew")} short, the first in ${monthOfDay(first)}`,
    noRoom: noRoomG < TRIFLE_G ? "" : tonneWords(noRoomG),
    firstShortDay: first,
  };
}

/** The drawn years so far. */
export function oddsOfYears(season: Season, years: readonly DrawnYear[]): ExplainedOdds | null {
  const fromDay = firstAwakeDay(season);
  if (fromDay === null) return null;
  return {
    of: YEARS,
    firstShortDays: years.map((one) => one.firstShortDay),
    unplanned: years.filter((one) => !one.isPlanned).length,
    fromDay,
    toDay: dayNumber(season.horizonEnd),
  };
}

/** "Oct 2027", the month of a day. */
export function monthOfDay(day: number): string {
  return monthWords({ from: dayNumber(`${isoDate(day).slice(0, 7)}-01`), to: day }, 0);
}

/** The months from that of a day to that of another. */
export function monthsBetween(fromDay: number, toDay: number): Month[] {
  const months: Month[] = [];
  for (let at = isoDate(fromDay).slice(0, 7); dayNumber(`${at}-01`) <= toDay;) {
    const year = yearOf(dayNumber(`${at}-01`)), month = Number(at.slice(5));
    const next = month === 12 ? `${year + 1}-01` : `${year}-${String(month + 1).padStart(2, "0")}`;
    months.push({ from: dayNumber(`${at}-01`), to: dayNumber(`${next}-01`) });
    at = next;
  }
  return months;
}

/** "14 of 20", and the month in which the first of most years go short. */
export function oddsWords({ of, firstShortDays, unplanned }: ExplainedOdds): string {
  const drawn = firstShortDays.length;
  const short = firstShortDays.filter((day) => day !== null);
  const so = (drawn < of ? `, as far as ${drawn} of them are planned` : "") +
    (unplanned > 0 ? `, ${unplanned} of which found no plan and count as short` : "");
  if (short.length === 0) return `In none of ${of} years${so}.`;
  const byMonth = Map.groupBy(short, monthOfDay);
  const [month, most] = [...byMonth].toSorted((a, b) => b[1].length - a[1].length)[0]!;
  const when = byMonth.size === 1 ? `always first in ${month}` : `${most.length} of them first in ${month}`;
  return `In ${short.length} of ${of} years${so}: ${short.length === 1 ? `first in ${month}` : when}.`;
}
