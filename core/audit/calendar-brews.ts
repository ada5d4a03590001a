/** The brews a plan has to answer for: those of the calendar that are still asked for, and their repeats in the tail. */
import { dayNumber } from "../calendar.ts";
import type { Season } from "../season/season.ts";

/** A repeat lies 52 weeks later, so that it falls on the same weekday. */
const REPEAT_DAYS = 364;

/** A brew asked for; days are day numbers. */
export interface AskedBrew {
  readonly id: string;
  readonly beerId: string;
  readonly earliestDay: number;
  readonly latestDay: number;
  readonly class: number;
  readonly volumeL: number | undefined;
  readonly tail: boolean;
}

/** Brews asked for, by id, tail brews included. */
export function askedBrews(
  season: Season,
  asOfDay: number,
  horizonEnd: number,
  planEnd: number,
): Map<string, AskedBrew> {
  const asked = new Map<string, AskedBrew>();
  const recorded = new Set(season.records.brews.map((brew) => brew.brewId));
  for (const brew of season.brews) {
    const on = dayNumber(brew.on), earliest = dayNumber(brew.earliest), latest = dayNumber(brew.latest);
    const common = { beerId: brew.beerId, class: brew.class, volumeL: brew.volumeL };
    if (!recorded.has(brew.id) && latest >= asOfDay && on <= horizonEnd) {
      asked.set(brew.id, { ...common, id: brew.id, earliestDay: earliest, latestDay: latest, tail: false });
    }
    const again = on + REPEAT_DAYS;
    if (!brew.pilot && again > horizonEnd && again <= planEnd) {
      const id = `tail-${brew.id}`;
      asked.set(id, {
        ...common,
        id,
        earliestDay: Math.max(earliest + REPEAT_DAYS, horizonEnd + 1),
        latestDay: latest + REPEAT_DAYS,
        tail: true,
      });
    }
  }
  return asked;
}
