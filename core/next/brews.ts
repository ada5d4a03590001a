import { addDays } from "../calendar.ts";
import type { Brew } from "../season/brewing.ts";
import { LONGEST_BREW_ID } from "../season/check/ids.ts";
import type { Stopped } from "../year/stopped.ts";
import type { CopyIds } from "./copy-ids.ts";
import { isOfLastYear, repeatsOf, type Span } from "./repeats.ts";

/** The calendar of the new season. */
export interface NextBrews {
  readonly brews: readonly Brew[];
  /** Brews of the old calendar that are still to be made. */
  readonly toMake: number;
  readonly repeated: number;
  readonly made: number;
  /** Brews whose days are over without having been made. */
  readonly missed: readonly Brew[];
}

/**
 * Brews that are still to be made stay; those of the last 52 weeks that are no pilots stand again 364 days later. Where the new season
 * is short, brews that are over stay too as far as the weeks after its end repeat them.
 */
export function nextBrews(stopped: Stopped, span: Span, ids: CopyIds): NextBrews {
  const { season, journal, date, toCome } = stopped;
  const made = journal.brews.filter((fact) => fact.made && fact.day < toCome);
  const madeIds = new Set(made.map((fact) => fact.brew.id));
  // A day may be booked outside the window; its brew is still to come.
  const booked = new Set(season.bookings.brews.filter((one) => one.on >= date).map((one) => one.brewId));
  const isToMake = (brew: Brew) => !madeIds.has(brew.id) && (brew.latest >= date || booked.has(brew.id));
  const isToRepeat = (brew: Brew) =>
    !brew.pilot && brew.latest < date && isOfLastYear(brew.on, { ...span, oldEnd: span.newEnd });
  const repeated = season.brews.filter((brew) => !brew.pilot && isOfLastYear(brew.on, span)).flatMap((brew) =>
    repeatsOf(brew.on, span).map((days, year) => ({ brew: moved(brew, days), first: year === 0 }))
  )
    // The plan may have made a brew of the weeks after the old end.
    .filter(({ brew, first }) => !(first && madeIds.has(`tail-${brew.id}`) && brew.latest >= date))
    .map(({ brew }) => ({ ...brew, id: ids.copyOf(brew.id, LONGEST_BREW_ID) }));
  return {
    brews: [...season.brews.filter((brew) => isToMake(brew) || isToRepeat(brew)), ...repeated],
    toMake: season.brews.filter(isToMake).length,
    repeated: repeated.length,
    made: made.filter((fact) => !fact.tail).length,
    missed: season.brews.filter((brew) => !madeIds.has(brew.id) && !isToMake(brew)),
  };
}

function moved(brew: Brew, days: number): Brew {
  return {
    ...brew,
    on: addDays(brew.on, days),
    earliest: addDays(brew.earliest, days),
    latest: addDays(brew.latest, days),
  };
}
