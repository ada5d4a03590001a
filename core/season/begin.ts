import { addDays, dateOf } from "../calendar.ts";
import { type Season, seasonSchema } from "./season.ts";

/** Days that a season begun with nothing looks ahead: seventy weeks, from one harvest past the next. */
const AHEAD_DAYS = 490;

/** A farm on its first day, with nothing written down yet. `now` is the minute on its clock; every number is a book value. */
export function beginSeason(name: string, id: string, zone: string, now: string): Season {
  return seasonSchema.parse({
    ...{ format: "rickyard-season", version: 1, id, name, zone, positionAt: now, asOf: now },
    ...{ readerUnits: "metric", currency: "USD", horizonEnd: addDays(dateOf(now), AHEAD_DAYS) },
    roster: {},
    maltStore: { places: 0, placeG: 500_000 },
    brewhouse: { brewsPerDay: 1, brewWeekdays: [1, 2, 3, 4, 5] },
    costs: { reservePerTonneDayCents: 500, changedRunCents: 2500 },
    bookValues: [
      "/maltStore/placeG",
      "/brewhouse/brewsPerDay",
      "/brewhouse/brewWeekdays",
      "/costs/reservePerTonneDayCents",
      "/costs/changedRunCents",
    ],
    opening: {},
    records: {},
    bookings: {},
  });
}
