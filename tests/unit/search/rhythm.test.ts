import { describe, expect, test } from "vitest";
import { addDays, dateOf } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { problemOf } from "../../../core/search/problem.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";
import type { HandOver } from "../../../core/season/malthouse.ts";
import type { Season } from "../../../core/season/season.ts";

const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];
const WEEKDAYS = [1, 2, 3, 4, 5];

/** 2 + 4 + 1 days, one vessel a stage, hand-overs at eight o'clock on the days given. */
function house(days: Record<HandOver, number[]>, bedCleaningHours = 0): Season {
  const season = structuredClone(microSeason(1));
  season.people = [];
  season.roster.closed = [];
  season.roster.extra = [];
  season.roster.steepInTimes = ["08:00"];
  season.roster.weekly = (Object.keys(days) as HandOver[]).map((handOver) => ({
    weekdays: days[handOver],
    from: "08:00",
    to: "08:00",
    handOvers: [handOver],
  }));
  for (const vessel of season.vessels) {
    vessel.cleaningHours = vessel.stages.includes("bed") ? bedCleaningHours : 0;
    vessel.changeOver = [];
    vessel.closures = [];
    delete vessel.turning;
    delete vessel.firedLookInEveryHours;
    delete vessel.monthLoadFactor;
  }
  const exactly = (hours: number) => ({ least: hours, usual: hours, greatest: hours });
  for (const malt of season.maltTypes) {
    if (malt.made.from !== "grain") continue;
    malt.made.profiles = [{
      id: "only",
      name: "only",
      steep: exactly(48),
      bed: exactly(96),
      kiln: exactly(24),
    }];
    delete malt.made.monthExtraKilnHours;
    delete malt.made.monthLoadFactor;
  }
  season.horizonEnd = addDays(dateOf(season.asOf), 20);
  return season;
}

/** Starts in eight weeks when every run begins on the first legal day: with one recipe nothing beats that. */
function startsIn56Days(season: Season): number {
  const problem = problemOf(season, season.asOf);
  const board = new VesselBoard(problem);
  const slots = problem.slotsByMalt[0] ?? [];
  const first = slots[0]?.steepDay ?? 0;
  let starts = 0;
  for (const slot of slots) {
    if (slot.steepDay >= first + 56 || !board.fits(slot, 0)) continue;
    board.put(slot, 0);
    starts++;
  }
  return starts;
}

const all = (days: number[]) => ({ steepIn: days, castToBed: days, kilnLoading: days, strip: days });

describe("the weekly rhythm of a house with 2 + 4 + 1 days", () => {
  test("Monday to Friday: one run in seven days, not in five", () => {
    expect(startsIn56Days(house(all(WEEKDAYS)))).toBe(8);
  });

  test("steep-in and strip also on Saturday, kiln loading also on Sunday: three runs in fourteen", () => {
    const days = {
      steepIn: [...WEEKDAYS, 6],
      castToBed: WEEKDAYS,
      kilnLoading: [...WEEKDAYS, 7],
      strip: [...WEEKDAYS, 6],
    };
    expect(startsIn56Days(house(days))).toBe(12);
  });

  test("all seven days: one run in four; in five with a clean day in the bed", () => {
    expect(startsIn56Days(house(all(EVERY_DAY)))).toBe(14);
    expect(startsIn56Days(house(all(EVERY_DAY), 24))).toBe(12);
  });
});
