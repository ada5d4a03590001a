import { addDays, dateOf, dayNumber, isoDate } from "../calendar.ts";
import type { Brew } from "./brewing.ts";
import type { Season } from "./season.ts";

/** Days planned beyond the last day shown, so that malt at the end of the horizon is not worthless. */
const TAIL_DAYS = 84;
/** Fifty-two whole weeks: the tail repeats the calendar on the same weekdays. */
const YEAR_OF_WEEKS_DAYS = 364;

/** Day number of the last day that is planned: `horizonEnd` and twelve weeks. */
export function planEndDay(season: Season): number {
  return dayNumber(season.horizonEnd) + TAIL_DAYS;
}

/**
 * The brews of the twelve weeks after the horizon: every calendar brew that is no pilot, once more 364 days later where
 * that falls between the two ends. Their ids are `tail-` and the old id; their windows never reach into the horizon.
 */
export function tailBrews(season: Season): Brew[] {
  const horizonEnd = dayNumber(season.horizonEnd);
  const planEnd = planEndDay(season);
  return season.brews.flatMap((brew) => {
    const on = dayNumber(brew.on) + YEAR_OF_WEEKS_DAYS;
    if (brew.pilot || on <= horizonEnd || on > planEnd) return [];
    const earliest = Math.max(dayNumber(brew.earliest) + YEAR_OF_WEEKS_DAYS, horizonEnd + 1);
    return [{
      ...brew,
      id: `tail-${brew.id}`,
      on: isoDate(on),
      earliest: isoDate(earliest),
      latest: addDays(brew.latest, YEAR_OF_WEEKS_DAYS),
    }];
  });
}

/** What a plan made at `asOf` is asked for: unrecorded brews whose window is not over, then the tail's. */
export function allBrewsToPlan(season: Season, asOf: string): Brew[] {
  const today = dateOf(asOf);
  const brewed = new Set(season.records.brews.map((record) => record.brewId));
  const open = season.brews.filter((brew) => !brewed.has(brew.id) && brew.latest >= today);
  return [...open, ...tailBrews(season)];
}
