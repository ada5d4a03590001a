import { dateOf, dayNumber, isoDate } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { type Journal, journalOf } from "./journal.ts";
import { type StateAt, stateAt } from "./state-at.ts";

/** A season stopped at one minute: what has happened by then, and where everything is. */
export interface Stopped {
  readonly season: Season;
  readonly at: string;
  readonly date: string;
  readonly day: number;
  /** First day of which nothing has happened yet: the day itself when it is stopped at midnight, else the next. */
  readonly toCome: number;
  readonly journal: Journal;
  readonly state: StateAt;
}

/**
 * Stops a season at 00:00 of `date`, everything done until then as planned. `date` lies after as-of and not after the plan's end;
 * otherwise a RangeError.
 */
export function stoppedAt(season: Season, plan: Plan | null, date: string): Stopped {
  const journal = journalOf(season, plan), day = dayNumber(date);
  if (day <= journal.asOfDay || day > journal.planEnd) {
    throw new RangeError(
      `A season can be reopened from ${isoDate(journal.asOfDay + 1)} to ${
        isoDate(journal.planEnd)
      }, not on ${date}.`,
    );
  }
  const at = `${date}T00:00`;
  return { season, at, date, day, toCome: day, journal, state: stateAt(season, plan, at) };
}

/** Stops a season at as-of, by its records alone. Seed of as-of's own day is still to be taken. */
export function stoppedByBook(season: Season): Stopped {
  const at = season.asOf, date = dateOf(at), day = dayNumber(date);
  const book: Season = {
    ...season,
    seedReserves: season.seedReserves.filter((one) => one.on < date),
    bookings: { runs: [], brews: [], orders: [], feedLoads: [], moves: [] },
  };
  return {
    season,
    at,
    date,
    day,
    toCome: day + 1,
    journal: journalOf(book, null),
    state: stateAt(book, null, at),
  };
}
