import type { SeasonFile } from "../../core/season/season.ts";

/**
 * The smallest season there can be: a farm with nothing on it and nothing to do. Its plan is empty and holds, so
 * tests of the store and the server need not wait for a real one. Invented.
 */
export const bareSeason: SeasonFile = {
  format: "rickyard-season",
  version: 1,
  id: "bare-farm",
  name: "Bare Farm",
  zone: "Europe/Dublin",
  readerUnits: "metric",
  currency: "EUR",
  positionAt: "2026-08-31T00:00",
  asOf: "2027-01-18T07:00",
  fixedAsOf: "2027-01-18T07:00",
  horizonEnd: "2027-06-30",
  roster: {},
  maltStore: { places: 10, placeG: 500_000 },
  brewhouse: { brewsPerDay: 1, brewWeekdays: [1, 2, 3, 4, 5] },
  costs: { reservePerTonneDayCents: 100, changedRunCents: 1000 },
  opening: {},
  records: {},
  bookings: {},
};
