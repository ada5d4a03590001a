import { expect, test } from "vitest";
import { dateOf, dayNumber, weekday } from "../../../core/calendar.ts";
import { addElapsedHours } from "../../../core/zone.ts";

const ZONE = "America/New_York";
const MONDAY = weekday(dayNumber("2027-01-18"));

// outside: Montana State University, malt quality laboratory: 48 hours of steep, 96 of germination and 24 of kiln
// make a cycle of a week. Begun on a Monday, the kiln is loaded on the Sunday: the day that a house staffed from
// Monday to Friday does not have.
test("outside: 48 + 96 + 24 hours are a week, with the kiln loaded on the sixth day", () => {
  const steepIn = "2027-01-18T08:00";
  const cast = addElapsedHours(ZONE, steepIn, 48);
  const kilnLoad = addElapsedHours(ZONE, cast, 96);
  const strip = addElapsedHours(ZONE, kilnLoad, 24);
  const days = [cast, kilnLoad, strip].map((time) => dayNumber(dateOf(time)) - dayNumber(dateOf(steepIn)));
  expect(days).toEqual([2, 6, 7]);
  expect(weekday(dayNumber(dateOf(strip)))).toBe(MONDAY);
  expect(strip).toBe("2027-01-25T08:00");
});
