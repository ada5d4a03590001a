import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dayNumber, weekday } from "../../../core/calendar.ts";
import { instantOf, wallTime } from "../../../core/zone.ts";
import { attendanceOf } from "../../../core/search/attendance.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { legalSlots, type Slot } from "../../../core/search/slots.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";
import { type Season, type SeasonFile, seasonSchema } from "../../../core/season/season.ts";
import { bareSeason } from "../../_support/bare-season.ts";

type Roster = NonNullable<SeasonFile["roster"]>;
type VesselFile = NonNullable<SeasonFile["vessels"]>[number];

const ALL = ["steepIn", "castToBed", "kilnLoading", "strip"] as const;
const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];
const WEEKDAYS = [1, 2, 3, 4, 5];
/** A Monday. */
const FIRST = dayNumber("2027-01-04");

const exactly = (hours: number) => ({ least: hours, usual: hours, greatest: hours });

interface House {
  roster?: Partial<Roster>;
  bed?: Partial<VesselFile>;
  kiln?: Partial<VesselFile>;
  people?: SeasonFile["people"];
  zone?: string;
  slackHours?: number;
}

/** One steep, one bed and one kiln; a malt that takes 2 + 4 + 1 days; somebody there at eight each day. Invented. */
function house(
  { roster = {}, bed = {}, kiln = {}, people = [], zone = "UTC", slackHours = 0 }: House,
): Season {
  const vessel = (stage: "steep" | "bed" | "kiln", more: Partial<VesselFile>): VesselFile => ({
    id: stage,
    name: stage,
    stages: [stage],
    loadLimits: [{ crop: "barley", leastG: 1, greatestG: 1_000_000 }],
    cleaningHours: 0,
    ...more,
  });
  const about = (hours: number) => ({
    least: hours - slackHours,
    usual: hours,
    greatest: hours + slackHours,
  });
  return seasonSchema.parse({
    ...bareSeason,
    zone,
    people,
    vessels: [vessel("steep", {}), vessel("bed", bed), vessel("kiln", kiln)],
    roster: {
      weekly: [{ weekdays: EVERY_DAY, from: "08:00", to: "08:00", handOvers: [...ALL] }],
      steepInTimes: ["08:00"],
      ...roster,
    },
    maltTypes: [{
      id: "pale",
      name: "pale",
      made: {
        from: "grain",
        crops: ["barley"],
        acceptance: {},
        profiles: [{ id: "week", name: "week", steep: about(48), bed: about(96), kiln: about(24) }],
        screeningLoss: 0.05,
        steepLossDm: 0.01,
        respirationLossDm: 0.05,
        rootletLossDm: 0.04,
        runCents: 0,
      },
      maltMoistureWb: 0.045,
      extractCoarseDb: 0.8,
      restDays: 21,
      shelfLifeDays: 365,
    }],
  });
}

function slotsOf(season: Season, days: number, first = FIRST): Slot[] {
  const attendance = attendanceOf(season, first - 1, first + days + 40);
  return legalSlots(season, attendance, first, first + days + 40, ["barley"])
    .filter((slot) => slot.steepDay < first + days);
}

const startsOf = (season: Season, days: number, first = FIRST) =>
  slotsOf(season, days, first).map((slot) => slot.steepDay);

const range = (from: number, days: number) => Array.from({ length: days }, (_, i) => from + i);

/** Legal starts of 2 + 4 + 1 days by plain arithmetic on weekdays. */
function legalStarts(on: Record<(typeof ALL)[number], number[]>, days: number): number[] {
  return range(FIRST, days).filter((day) =>
    on.steepIn.includes(weekday(day)) && on.castToBed.includes(weekday(day + 2)) &&
    on.kilnLoading.includes(weekday(day + 6)) && on.strip.includes(weekday(day + 7))
  );
}

/** Most of these starts that lie at least `apart` days from one another: best[i] of the first i starts. */
function mostApart(starts: readonly number[], apart: number): number {
  const best = [0];
  starts.forEach((start, i) => {
    const before = starts.filter((one) => one <= start - apart).length;
    best.push(Math.max(best[i]!, best[before]! + 1));
  });
  return best.at(-1)!;
}

function greedyStarts(season: Season, slots: readonly Slot[]): number {
  const board = new VesselBoard({ season, book: { runsEnded: [] } } as unknown as Problem);
  let count = 0;
  for (const slot of slots) {
    if (!board.fits(slot, 0)) continue;
    board.put(slot, 0);
    count++;
  }
  return count;
}

describe("legal slots", () => {
  const on = (days: number[]) => ({ steepIn: days, castToBed: days, kilnLoading: days, strip: days });
  const saturdays = {
    steepIn: [...WEEKDAYS, 6],
    castToBed: WEEKDAYS,
    kilnLoading: [...WEEKDAYS, 7],
    strip: [...WEEKDAYS, 6],
  };
  test.each([
    { name: "Monday to Friday: one run in 7 days", days: on(WEEKDAYS), clean: 0, runs: 1, of: 7 },
    { name: "Saturdays and Sundays in part: 3 in 14", days: saturdays, clean: 0, runs: 3, of: 14 },
    { name: "every day: one in 4", days: on(EVERY_DAY), clean: 0, runs: 1, of: 4 },
    { name: "every day, one clean day in the bed: one in 5", days: on(EVERY_DAY), clean: 1, runs: 1, of: 5 },
  ])("are those of plain arithmetic; $name", ({ days, clean, runs, of }) => {
    const season = house({
      roster: {
        weekly: ALL.map((handOver) => ({
          weekdays: days[handOver],
          from: "08:00",
          to: "08:00",
          handOvers: [handOver],
        })),
      },
      bed: { cleaningHours: 24 * clean },
    });
    const slots = slotsOf(season, 140);
    const starts = legalStarts(days, 140);
    expect(slots.map((slot) => slot.steepDay)).toEqual(starts);
    // The bed, four days and the clean one, is what runs wait for.
    const most = mostApart(starts, 4 + clean);
    expect(most).toBe(140 * runs / of);
    expect(greedyStarts(season, slots)).toBe(most);
  });

  test("keep off closed vessels, closures half-open to the minute", () => {
    const from = FIRST + 10, to = FIRST + 13;
    const closure = (open: string) =>
      house({ bed: { closures: [{ from: "2027-01-14T08:00", to: open, reason: "bearings" }] } });
    const clear = range(FIRST, 28).filter((day) => day + 6 <= from || day + 2 >= to);
    expect(startsOf(closure("2027-01-17T08:00"), 28)).toEqual(clear);
    expect(startsOf(closure("2027-01-17T08:01"), 28)).toEqual(clear.filter((day) => day + 2 !== to));
  });

  test("keep off hand-overs that are closed, and off days on which the window's person is away", () => {
    const shut = house({
      roster: {
        closed: [{ from: "2027-01-14", to: "2027-01-15", handOvers: ["castToBed", "strip"], reason: "fair" }],
      },
    });
    const days = [FIRST + 10, FIRST + 11];
    expect(startsOf(shut, 28)).toEqual(
      range(FIRST, 28).filter((day) => !days.includes(day + 2) && !days.includes(day + 7)),
    );
    const away = house({
      people: [{
        id: "ann",
        name: "maltster",
        roles: ["maltster"],
        away: [{ from: "2027-01-14", to: "2027-01-15", reason: "fair" }],
      }],
      roster: {
        weekly: [
          { weekdays: EVERY_DAY, from: "08:00", to: "08:00", handOvers: [...ALL], personId: "ann" },
        ],
      },
    });
    expect(startsOf(away, 28)).toEqual(
      range(FIRST, 28).filter((day) => [0, 2, 6, 7].every((after) => !days.includes(day + after))),
    );
    // A kiln that must be looked at is fired only while the maltster is on the farm, though others load it.
    const fired = house({ people: away.people, kiln: { firedLookInEveryHours: 4 } });
    expect(startsOf(fired, 28)).toEqual(
      range(FIRST, 28).filter((day) => !days.includes(day + 6) && !days.includes(day + 7)),
    );
  });

  test("leave a bed turned by machine alone for no longer than look-ins allow", () => {
    const two = (n: number) => String(n).padStart(2, "0");
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 23 }), { minLength: 1, maxLength: 3 }),
        fc.subarray(EVERY_DAY, { minLength: 1 }),
        fc.integer({ min: 1, max: 26 }),
        fc.integer({ min: 0, max: 6 }),
        (at, weekdays, every, staffedHours) => {
          const season = house({
            roster: {
              weekly: [{
                weekdays: EVERY_DAY,
                from: "08:00",
                to: `${two(8 + staffedHours)}:00`,
                handOvers: [...ALL],
              }],
              lookIns: [{ weekdays, at: at.map((hour) => `${two(hour)}:00`) }],
            },
            bed: { turning: { by: "machine", lookInEveryHours: every } },
          });
          // Longest time alone between casting and loading the kiln, both at eight, hour by hour.
          const aloneFrom = (cast: number) => {
            let longest = 0, last = 0;
            for (let hour = 0; hour <= 96; hour++) {
              const clock = (8 + hour) % 24;
              const lookIn = at.includes(clock) &&
                weekdays.includes(weekday(cast + Math.floor((8 + hour) / 24)));
              if (!lookIn && (clock < 8 || clock > 8 + staffedHours)) continue;
              longest = Math.max(longest, hour - last);
              last = hour;
            }
            return longest;
          };
          expect(startsOf(season, 7)).toEqual(range(FIRST, 7).filter((day) => aloneFrom(day + 2) <= every));
        },
      ),
      { numRuns: 150, seed: 41 },
    );
  });

  test("count night turns by farm week, price them, and stop at the most allowed", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 0, max: 12 }),
        fc.integer({ min: 0, max: 40 }),
        (every, staffedHours, most) => {
          const season = house({
            roster: {
              weekly: [{
                weekdays: EVERY_DAY,
                from: "08:00",
                to: `${String(8 + staffedHours).padStart(2, "0")}:00`,
                handOvers: [...ALL],
              }],
            },
            bed: {
              turning: {
                by: "hand",
                everyHours: every,
                nightTurnCents: 700,
                mostNightTurnsPerWeek: most,
              },
            },
          });
          season.weekStartsOn = 3;
          const nightsOf = (start: number) => {
            const weeks = new Map<number, number>();
            for (let hour = every; hour < 96; hour += every) {
              if ((hour % 24) <= staffedHours) continue;
              const day = start + 2 + Math.floor((8 + hour) / 24);
              // Weeks are numbered by their first day, a Wednesday.
              const week = day - (weekday(day) + 4) % 7;
              weeks.set(week, (weeks.get(week) ?? 0) + 1);
            }
            return [...weeks.values()];
          };
          const slots = slotsOf(season, 7);
          expect(slots.map((slot) => slot.steepDay)).toEqual(
            range(FIRST, 7).filter((day) => nightsOf(day).every((turns) => turns <= most)),
          );
          for (const slot of slots) {
            const turns = nightsOf(slot.steepDay);
            expect(slot.nights.map(([, n]) => n)).toEqual(turns);
            expect(slot.nightCents).toBe(700 * turns.reduce((sum, n) => sum + n, 0));
          }
        },
      ),
      { numRuns: 60, seed: 42 },
    );
  });

  test("in the weeks of a clock change stages keep their elapsed hours and hand-overs their staffed ones", () => {
    const at = (slot: Slot) => slot.times.map((minute) => wallTime("Europe/Dublin", minute));
    const only = (friday: string, from: string, to: string, slackHours: number) => {
      const season = house({
        zone: "Europe/Dublin",
        slackHours,
        roster: { weekly: [{ weekdays: EVERY_DAY, from, to, handOvers: [...ALL] }] },
      });
      return slotsOf(season, 1, dayNumber(friday));
    };
    // Clocks go forward on 28 March 2027 and back on 31 October.
    expect(only("2027-03-26", "08:00", "10:00", 0).map(at)).toEqual([
      ["2027-03-26T08:00", "2027-03-28T09:00", "2027-04-01T09:00", "2027-04-02T09:00"],
    ]);
    expect(only("2027-10-29", "07:00", "08:00", 0).map(at)).toEqual([
      ["2027-10-29T08:00", "2027-10-31T07:00", "2027-11-04T07:00", "2027-11-05T07:00"],
    ]);
    // With hours to give and somebody there, the usual hours are kept; else the staffed minute nearest to them.
    expect(only("2027-10-29", "07:00", "09:00", 1).map(at)).toEqual([
      ["2027-10-29T08:00", "2027-10-31T07:00", "2027-11-04T07:00", "2027-11-05T07:00"],
    ]);
    expect(only("2027-03-26", "08:00", "08:30", 0)).toEqual([]);
    const [early] = only("2027-03-26", "08:00", "08:30", 1);
    expect(at(early!)).toEqual([
      "2027-03-26T08:00",
      "2027-03-28T08:30",
      "2027-04-01T08:30",
      "2027-04-02T08:30",
    ]);
    expect(early!.times[1] - early!.times[0]).toBe(47.5 * 60);
    expect(early!.times[0]).toBe(instantOf("Europe/Dublin", dayNumber("2027-03-26"), 480));
  });

  test("stand in order of steep-in, then malt, then strip, numbered, and are ready by the last day", () => {
    const season = house({});
    const [pale] = season.maltTypes;
    const made = pale!.made;
    if (made.from !== "grain") throw new Error("the house malts grain");
    made.profiles.unshift({
      id: "long",
      name: "long",
      steep: exactly(48),
      bed: exactly(120),
      kiln: exactly(24),
    });
    season.maltTypes.push({ ...structuredClone(pale!), id: "dark" });
    expect(
      slotsOf(season, 5).map(({ index, steepDay, malt, profileId }) => [index, steepDay, malt, profileId]),
    )
      .toEqual(
        range(FIRST, 5).flatMap((
          day,
        ) => [[day, 0, "week"], [day, 0, "long"], [day, 1, "week"], [day, 1, "long"]])
          .map((one, i) => [i, ...one]),
      );
    // Seven days to the strip, eight for the long profile, and 21 days of rest.
    const last = FIRST + 10 + 7 + 21;
    const slots = legalSlots(season, attendanceOf(season, FIRST - 1, last + 1), FIRST, last, ["barley"]);
    const lastStart = (profile: string) =>
      Math.max(...slots.filter((one) => one.profileId === profile).map((one) => one.steepDay));
    expect([lastStart("week"), lastStart("long")]).toEqual([FIRST + 10, FIRST + 9]);
  });
});
