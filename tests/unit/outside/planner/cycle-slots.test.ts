import { describe, expect, test } from "vitest";
import { addDays, dayNumber, weekday } from "../../../../core/calendar.ts";
import { elapsedHours, wallTime } from "../../../../core/zone.ts";
import { problemOf } from "../../../../core/search/problem.ts";
import type { HandOver, Profile } from "../../../../core/season/malthouse.ts";
import type { Season } from "../../../../core/season/season.ts";
import { FIRST_DAY, fourTonneHouse } from "./_four-tonne-house.ts";

const ALL: HandOver[] = ["steepIn", "castToBed", "kilnLoading", "strip"];
const WEEKDAYS = [1, 2, 3, 4, 5];
const EVERY_DAY = [...WEEKDAYS, 6, 7];
const DAYS = 400;

/** A house of one steep and one vessel for bed and kiln, with somebody there at eight on the days given. */
function house(weekdays: number[], profile: Partial<Profile> = {}, zone = "UTC"): Season {
  const season = fourTonneHouse({ germinationHours: 96, cleaningHours: 8 });
  season.zone = zone;
  season.roster.weekly = [{ weekdays, from: "08:00", to: "08:00", handOvers: ALL }];
  season.roster.steepInTimes = ["08:00"];
  const { made } = season.maltTypes[0]!;
  if (made.from === "grain") Object.assign(made.profiles[0]!, profile);
  return season;
}

/** Every slot the planner has of the first 400 days, with its hours in steep, bed and kiln. */
function slotsOf(season: Season) {
  const first = dayNumber(FIRST_DAY);
  return problemOf(season, season.asOf).slots.filter((slot) => slot.steepDay < first + DAYS).map((slot) => {
    const at = slot.times.map((minute) => wallTime(season.zone, minute));
    return {
      day: slot.steepDay,
      stripDay: slot.stripDay,
      at,
      hours: [0, 1, 2].map((stage) => elapsedHours(season.zone, at[stage]!, at[stage + 1]!)),
    };
  });
}

const startDays = (season: Season) => [...new Set(slotsOf(season).map((slot) => weekday(slot.day)))].sort();

// outside: Montana State University, malt quality laboratory: steep 48 h (30 to 60), germination 96 h (72 to 144), kiln 24 h
// (20 to 48); the sum, seven days, is derived.
describe("outside: a cycle of 48 + 96 + 24 hours as the planner's slots", () => {
  test("with somebody there every day each day starts one, and it is stripped a week later", () => {
    const slots = slotsOf(house(EVERY_DAY));
    expect(slots).toHaveLength(DAYS);
    for (const { day, stripDay, hours } of slots) {
      expect([stripDay - day, hours]).toEqual([7, [48, 96, 24]]);
    }
  });

  test("from Monday to Friday only Tuesday and Wednesday start one: on Monday and Friday it would be kilned on a weekend", () => {
    // Two days on, six days on and seven days on must all be weekdays.
    expect(startDays(house(WEEKDAYS))).toEqual([2, 3]);
  });

  test("within the ranges stated a five-day week starts one from Monday to Wednesday, each stage inside its range", () => {
    const season = house(WEEKDAYS, {
      steep: { least: 30, usual: 48, greatest: 60 },
      bed: { least: 72, usual: 96, greatest: 144 },
      kiln: { least: 20, usual: 24, greatest: 48 },
    });
    // Of the mornings 30 to 60 hours on there is one, two days later: on Thursday and Friday it is a weekend's.
    const slots = slotsOf(season);
    const first = dayNumber(FIRST_DAY);
    const legal = Array.from({ length: DAYS }, (_, i) => first + i).filter((day) =>
      WEEKDAYS.includes(weekday(day)) && WEEKDAYS.includes(weekday(day + 2))
    );
    expect(slots.map((slot) => slot.day)).toEqual(legal);
    for (const { hours: [steep, bed, kiln], at } of slots) {
      expect(steep).toBe(48);
      expect(bed! >= 72 && bed! <= 144 && kiln! >= 20 && kiln! <= 48).toBe(true);
      for (const one of at) expect(WEEKDAYS).toContain(weekday(dayNumber(one.slice(0, 10))));
    }
  });

  test("when clocks change the hours stay and only a run across the change is lost", () => {
    const season = house(EVERY_DAY, {}, "America/New_York");
    const slots = slotsOf(season);
    for (const { hours } of slots) expect(hours).toEqual([48, 96, 24]);
    // The seven mornings before each change: a run begun on one of them meets it.
    const across = ["2027-03-14", "2027-11-07"].flatMap((day) =>
      Array.from({ length: 7 }, (_, i) => addDays(day, -1 - i))
    );
    const lost = Array.from({ length: DAYS }, (_, i) => addDays(FIRST_DAY, i)).filter((day) =>
      !slots.some((slot) => slot.day === dayNumber(day))
    );
    expect(lost.sort()).toEqual(across.sort());
  });
});
