import { TZDate } from "@date-fns/tz";
import { utc } from "@date-fns/utc";
import {
  addDays as oracleAddDays,
  addMonths,
  format,
  getISODay,
  isValid,
  parseISO,
  startOfMonth,
} from "date-fns";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import * as calendar from "../../core/calendar.ts";
import { formatDay } from "../../core/day-names.ts";
import * as zones from "../../core/zone.ts";

const { instant, instantOf, wallTime } = zones;
const DAY = fc.integer({ min: -60_000, max: 80_000 });
/** Days of 1990 to 2035, when the rules of the zones below are settled history or today's rule. */
const RECENT_DAY = fc.integer({ min: 7_305, max: 24_106 });
const MINUTE = fc.integer({ min: 0, max: 1439 });
const ZONE = fc.constantFrom(
  "Europe/Dublin",
  "America/New_York",
  "Pacific/Auckland",
  "Australia/Lord_Howe",
  "America/St_Johns",
  "Asia/Kathmandu",
  "Pacific/Apia",
  "UTC",
);

/** The runtime's own clock for a zone, asked by a road the calendar does not use. */
function clockOf(zone: string, epochMinute: number): string {
  return new Date(epochMinute * 60_000).toLocaleString("sv-SE", { timeZone: zone }).slice(0, 16).replace(
    " ",
    "T",
  );
}

describe("days", () => {
  test("day numbers and dates agree with date-fns both ways", () => {
    fc.assert(fc.property(DAY, (day) => {
      const theirs = format(oracleAddDays(parseISO("1970-01-01", { in: utc }), day), "yyyy-MM-dd");
      expect(calendar.isoDate(day)).toBe(theirs);
      expect(calendar.dayNumber(theirs)).toBe(day);
      expect(calendar.monthOf(day)).toBe(Number(theirs.slice(5, 7)));
      expect(calendar.isoDate(calendar.nextMonthFrom(day))).toBe(
        format(startOfMonth(addMonths(parseISO(theirs, { in: utc }), 1)), "yyyy-MM-dd"),
      );
      expect(calendar.yearOf(day)).toBe(Number(theirs.slice(0, 4)));
      expect(calendar.weekday(day)).toBe(getISODay(parseISO(theirs, { in: utc })));
    }));
  });

  test("what is a day and what is not agrees with date-fns", () => {
    const near = fc.tuple(DAY, fc.nat(9), fc.constantFrom(..."0123456789- /:x٣０"))
      .map(([day, at, put]) =>
        calendar.isoDate(day).slice(0, at) + put + calendar.isoDate(day).slice(at + 1)
      );
    fc.assert(
      fc.property(fc.oneof(near, fc.string({ maxLength: 11 }), fc.constantFrom("2027-02-29")), (text) => {
        const theirs = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(text) && isValid(parseISO(text, { in: utc }));
        expect(calendar.isIsoDate(text)).toBe(theirs);
      }),
      { numRuns: 1000 },
    );
  });

  test("the ends of the calendar hold", () => {
    expect(calendar.isoDate(calendar.dayNumber("0000-01-01"))).toBe("0000-01-01");
    expect(calendar.isoDate(calendar.dayNumber("9999-12-31"))).toBe("9999-12-31");
    expect(() => calendar.addDays("9999-12-31", 1)).toThrow(RangeError);
    expect(() => calendar.isoDate(0.5)).toThrow("not a day number");
  });

  test("adding days and counting them are inverse", () => {
    expect(calendar.addDays("2028-02-28", 2)).toBe("2028-03-01");
    expect(calendar.addDays("2027-01-01", -1)).toBe("2026-12-31");
    expect(calendar.dayNumber("2028-01-02") - calendar.dayNumber("2026-08-31")).toBe(489);
  });

  test("the demo's day is a Monday", () => {
    expect(calendar.weekday(calendar.dayNumber("2027-01-18"))).toBe(1);
    expect(calendar.weekday(-4)).toBe(7);
  });

  test.each(["2027-02-29", "2100-02-29", "2027-13-01", "2027-00-10", "2027-04-31", "2027-1-1", "18 Jan", ""])(
    "%s is no date",
    (text) => {
      expect(calendar.isIsoDate(text)).toBe(false);
      expect(() => calendar.dayNumber(text)).toThrow(RangeError);
    },
  );

  test.each([
    "2027-01-18T24:00",
    "2027-01-18T07:60",
    "2027-02-30T07:00",
    "2027-01-18 07:00",
    "2027-01-18T07:00Z",
  ])(
    "%s is no clock reading",
    (text) => {
      expect(calendar.isLocalTime(text)).toBe(false);
      expect(() => instant("UTC", text)).toThrow(RangeError);
    },
  );

  test("a clock reading comes apart and together", () => {
    expect(calendar.isIsoDate("2028-02-29") && calendar.isLocalTime("2028-02-29T23:59")).toBe(true);
    expect(calendar.dateOf("2027-01-18T07:30")).toBe("2027-01-18");
    expect(calendar.minuteOf("2027-01-18T07:30")).toBe(450);
    expect(calendar.localTime("2027-01-18", 450)).toBe("2027-01-18T07:30");
    expect(() => calendar.localTime("2027-01-18", 1440)).toThrow(RangeError);
  });
});

describe("clock changes", () => {
  // Each row: zone, skipped reading, first reading after the gap, repeated reading, hours of the spring and
  // autumn day.
  test.each([
    ["Europe/Dublin", "2027-03-28T01:30", "2027-03-28T02:00", "2027-10-31T01:30", 1],
    ["America/New_York", "2027-03-14T02:30", "2027-03-14T03:00", "2027-11-07T01:30", 1],
    ["Pacific/Auckland", "2027-09-26T02:30", "2027-09-26T03:00", "2027-04-04T02:30", 1],
    ["Australia/Lord_Howe", "2027-10-03T02:15", "2027-10-03T02:30", "2027-04-04T01:45", 0.5],
  ])("%s", (zone, skipped, afterGap, repeated, shift) => {
    expect(instant(zone, skipped)).toBe(instant(zone, afterGap));
    expect(wallTime(zone, instant(zone, skipped))).toBe(afterGap);
    // The minute before the gap is one real minute away.
    expect(wallTime(zone, instant(zone, skipped) - 1)).not.toBe(afterGap);
    const first = instant(zone, repeated);
    expect(wallTime(zone, first)).toBe(repeated);
    expect(wallTime(zone, first + shift * 60)).toBe(repeated);
    expect(wallTime(zone, first - shift * 60)).not.toBe(repeated);
    const length = (date: string) =>
      zones.elapsedHours(zone, `${date}T00:00`, `${calendar.addDays(date, 1)}T00:00`);
    expect(length(calendar.dateOf(skipped))).toBe(24 - shift);
    expect(length(calendar.dateOf(repeated))).toBe(24 + shift);
  });

  test("a stage keeps its length and moves the wall reading", () => {
    expect(zones.addElapsedHours("Europe/Dublin", "2027-03-27T09:00", 48)).toBe("2027-03-29T10:00");
    expect(zones.addElapsedHours("Europe/Dublin", "2027-10-30T09:00", 48)).toBe("2027-11-01T08:00");
    expect(zones.addElapsedHours("Australia/Lord_Howe", "2026-10-03T12:00", 24)).toBe("2026-10-04T12:30");
    expect(zones.addElapsedHours("UTC", "2027-01-18T09:00", 1 / 3)).toBe("2027-01-18T09:20");
  });

  test("a skipped day ends at the next one", () => {
    // Samoa had no 30 December 2011: it crossed the date line.
    expect(wallTime("Pacific/Apia", instant("Pacific/Apia", "2011-12-30T12:00"))).toBe("2011-12-31T00:00");
  });
});

describe("instants", () => {
  test("the wall clock agrees with the runtime's own", () => {
    fc.assert(
      fc.property(ZONE, RECENT_DAY, MINUTE, (zone, day, minute) => {
        const epochMinute = day * 1440 + minute;
        const clock = wallTime(zone, epochMinute);
        expect(clock).toBe(clockOf(zone, epochMinute));
        expect(zones.localDay(zone, epochMinute)).toBe(calendar.dayNumber(calendar.dateOf(clock)));
      }),
      { numRuns: 500 },
    );
  });

  test("a wall reading comes back unless it is skipped, and the first of two is meant", () => {
    fc.assert(
      fc.property(ZONE, RECENT_DAY, MINUTE, (zone, day, minute) => {
        const local = calendar.localTime(calendar.isoDate(day), minute);
        const found = instantOf(zone, day, minute);
        expect(instant(zone, local)).toBe(found);
        const back = wallTime(zone, found);
        if (back !== local) expect(wallTime(zone, found - 1) < local && local < back).toBe(true);
        // An earlier instant with the same reading would lie one shift before.
        for (const shift of [30, 60]) expect(wallTime(zone, found - shift)).not.toBe(local);
      }),
      { numRuns: 500 },
    );
  });

  test("away from clock changes, instants agree with date-fns", () => {
    fc.assert(
      fc.property(ZONE, RECENT_DAY, MINUTE, (zone, day, minute) => {
        const found = instantOf(zone, day, minute);
        fc.pre(
          [-180, -60, 60, 180].every((near) =>
            zones.localDay(zone, found) * 1440 + calendar.minuteOf(wallTime(zone, found)) + near ===
              zones.localDay(zone, found + near) * 1440 + calendar.minuteOf(wallTime(zone, found + near))
          ),
        );
        const [year, month, dayOfMonth] = calendar.isoDate(day).split("-").map(Number);
        const theirs = new TZDate(year!, month! - 1, dayOfMonth!, Math.floor(minute / 60), minute % 60, zone);
        expect(found * 60_000).toBe(theirs.getTime());
      }),
      { numRuns: 500 },
    );
  });

  test("zones are known by name only", () => {
    expect(["Europe/Dublin", "UTC", "America/Argentina/Ushuaia"].every(zones.isZone)).toBe(true);
    expect(["Alder/Vale", "+05:30", "", "europe dublin"].some(zones.isZone)).toBe(false);
    expect(() => instant("Alder/Vale", "2027-01-18T07:30")).toThrow("IANA");
  });
});

describe("days for people", () => {
  test("three styles, day before month", () => {
    expect(formatDay("2027-02-12")).toBe("12 Feb");
    expect(formatDay("2027-02-12", undefined, "withYear")).toBe("12 Feb 2027");
    expect(formatDay("2027-01-18", undefined, "long")).toBe("Monday 18 January 2027");
  });

  test("the locale gives the names", () => {
    expect(formatDay("2027-05-12", "de", "long")).toBe("Mittwoch 12 Mai 2027");
  });
});
