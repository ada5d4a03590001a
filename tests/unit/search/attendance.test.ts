import { describe, expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { instantOf } from "../../../core/zone.ts";
import { attendanceOf, inWindow, longestAbsence, nearestStaffed } from "../../../core/search/attendance.ts";
import { stageLimits, timesFrom } from "../../../core/search/slots.ts";
import type { MadeFromGrain, Profile } from "../../../core/season/malthouse.ts";
import { type Season, type SeasonFile, seasonSchema } from "../../../core/season/season.ts";
import { bareSeason } from "../../_support/bare-season.ts";

/** A Monday. */
const FIRST = dayNumber("2027-01-04");
const ALL = ["steepIn", "castToBed", "kilnLoading", "strip"] as const;
const AWAY = [{ from: "2027-01-05", to: "2027-01-06", reason: "course" }];

/** Ann, who is away on Tuesday and Wednesday, is the maltster; Ben grows the barley. Both are invented. */
function attendance(roster: NonNullable<SeasonFile["roster"]>, people: Season["people"] = []) {
  const season = seasonSchema.parse({ ...bareSeason, zone: "UTC", roster, people });
  return attendanceOf(season, FIRST, FIRST + 7);
}
const ann = { id: "ann", name: "Ann", roles: ["maltster" as const], away: AWAY };
const ben = { id: "ben", name: "Ben", roles: ["grower" as const], away: [] };
/** Minute of an hour of the n-th day. */
const at = (day: number, hour: number) => instantOf("UTC", FIRST + day, 0) + 60 * hour;

describe("look-ins", () => {
  const gap = (personId: string) =>
    longestAbsence(
      attendance({ lookIns: [{ weekdays: [1, 2, 3, 4], at: ["12:00"], personId }] }, [ann, ben]),
      at(0, 12),
      at(3, 12),
    );

  test("are not made by somebody who is away", () => {
    expect(gap("ben")).toBe(24 * 60);
    expect(gap("ann")).toBe(72 * 60);
  });

  test("leave the longest stretch between any two, the last one and the end included", () => {
    const there = attendance({ lookIns: [{ weekdays: [1], at: ["06:00", "10:00"] }] });
    expect(longestAbsence(there, at(0, 4), at(0, 12))).toBe(4 * 60);
    expect(longestAbsence(there, at(0, 4), at(0, 20))).toBe(10 * 60);
    expect(longestAbsence(there, at(0, 0), at(0, 11))).toBe(6 * 60);
  });
});

describe("a kiln may be fired", () => {
  const days = (people: Season["people"]) =>
    [0, 1, 2, 3].map((day) => attendance({}, people).firingDays.has(FIRST + day));

  test("while a maltster is there, or anybody on a farm without one", () => {
    expect(days([ann, ben])).toEqual([true, false, false, true]);
    expect(days([{ ...ann, roles: ["brewer"] }, ben])).toEqual([true, true, true, true]);
    expect(days([])).toEqual([true, true, true, true]);
  });
});

test("a window to 24:00 ends the day: midnight itself is the next day's, and no stretch without anybody lies between", () => {
  const weekly = [
    { weekdays: [1], from: "07:00", to: "24:00", handOvers: ["strip" as const] },
    { weekdays: [2], from: "00:30", to: "18:00", handOvers: ["strip" as const] },
  ];
  const there = attendance({ weekly });
  expect([at(1, 0) - 1, at(1, 0)].map((minute) => inWindow(there, minute))).toEqual([true, false]);
  expect(nearestStaffed(there, "strip", at(1, 0), at(1, 0), at(1, 12))?.minute).toBe(at(1, 0) + 30);
  expect(longestAbsence(there, at(0, 12), at(1, 12))).toBe(30);
});

test("a turn is in a window from its first minute to its last", () => {
  const weekly = [{ weekdays: [1, 3], from: "07:00", to: "18:00", handOvers: ["strip" as const] }];
  const there = attendance({ weekly, lookIns: [{ weekdays: [2], at: ["12:00"] }] });
  const minutes = [at(0, 7) - 1, at(0, 7), at(0, 18), at(0, 18) + 1, at(1, 12), at(2, 12)];
  expect(minutes.map((minute) => inWindow(there, minute))).toEqual([false, true, true, false, false, true]);
});

describe("the staffed minute nearest to the one wanted", () => {
  const weekly = [{ weekdays: [1, 2], from: "07:00", to: "18:00", handOvers: [...ALL] }];
  const there = attendance({
    weekly,
    extra: [{ on: "2027-01-04", from: "16:00", to: "20:00", handOvers: ["strip"], costCents: 900 }],
  });
  const nearest = (
    least: number,
    wanted: number,
    greatest: number,
    handOver: (typeof ALL)[number] = "strip",
  ) => nearestStaffed(there, handOver, least, wanted, greatest);

  test("lies in a window for that hand-over, inside the limits", () => {
    expect(nearest(at(0, 6), at(0, 12), at(1, 6))).toEqual({ minute: at(0, 12), extra: -1 });
    expect(nearest(at(0, 18), at(0, 23), at(1, 6), "steepIn")).toEqual({ minute: at(0, 18), extra: -1 });
    expect(nearest(at(0, 18) + 1, at(0, 23), at(1, 6), "steepIn")).toBeNull();
    expect(nearest(at(0, 18) + 1, at(0, 23), at(1, 7), "steepIn")).toEqual({ minute: at(1, 7), extra: -1 });
  });

  test("is the earlier one of two as near, and takes an extra window only where no weekly one will do", () => {
    expect(nearest(at(0, 17), at(1, 0) + 30, at(1, 8), "steepIn")?.minute).toBe(at(0, 18));
    expect(nearest(at(0, 17), at(0, 17), at(0, 17))).toEqual({ minute: at(0, 17), extra: -1 });
    expect(nearest(at(0, 19), at(0, 19), at(0, 19))).toEqual({ minute: at(0, 19), extra: 0 });
  });
});

describe("a stage", () => {
  const hours = (least: number, usual: number, greatest: number) => ({ least, usual, greatest });
  const there = attendance({
    weekly: [{ weekdays: [1, 2, 3, 4], from: "08:00", to: "08:00", handOvers: [...ALL] }],
  });
  const times = (bed: Profile["bed"], extraKilnHours = 0) => {
    const profile = { steep: hours(24, 24, 24), bed, kiln: hours(24, 24, 24) } as Profile;
    const made = { monthExtraKilnHours: [extraKilnHours, ...Array(11).fill(12)] } as unknown as MadeFromGrain;
    return timesFrom(there, stageLimits(profile, made, 1), [at(0, 8)], 0)?.times ?? null;
  };

  test("ends inside its limits or not at all", () => {
    expect(times(hours(20, 22, 24))).toEqual([at(0, 8), at(1, 8), at(2, 8), at(3, 8)]);
    expect(times(hours(20, 22, 23.99))).toBeNull();
    expect(times(hours(24, 26, 30))?.[2]).toBe(at(2, 8));
    expect(times(hours(24.01, 26, 30))).toBeNull();
  });

  test("on the kiln takes the extra hours of the month of steeping", () => {
    expect(times(hours(24, 24, 24), 24)).toBeNull();
    expect(times(hours(20, 24, 24), 0)?.[3]).toBe(at(3, 8));
  });
});
