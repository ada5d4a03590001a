import { describe, expect, test } from "vitest";
import { weekday } from "../../../core/calendar.ts";
import { weekWords } from "../../../core/explain/answer-words.ts";
import { runValues, weeksAhead, type WeekValue } from "../../../core/explain/run-values.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

const demo = demoSeason();
const base = await emptyPlan(demo);
const made = (brews: number): Plan => ({
  ...base,
  goals: { ...base.goals, made: [brews, 0, 0], asked: [20, 0, 0], promisesHeld: brews },
});
const weeks = weeksAhead(demo).slice(0, 6);
/** The day from which the further line of a season is open; -1 where there is none, 0 where it is open all year. */
const opensOn = (season: Season) => {
  const line = season.vessels.find((vessel) => vessel.id === "one-run-steep");
  return line === undefined ? "none" : line.closures[0]?.to.slice(0, 10) ?? "all year";
};

async function valuesOf(resolve: (season: Season) => Plan | null): Promise<WeekValue[]> {
  const found: WeekValue[] = [];
  for await (const one of runValues(demo, made(6), (season) => Promise.resolve(resolve(season)), weeks)) {
    found.push(one);
  }
  return found;
}

describe("what one more run is worth", () => {
  test("each week is planned anew with room in that week alone", async () => {
    const tried: string[] = [];
    const values = await valuesOf((season) => {
      tried.push(opensOn(season));
      return made(opensOn(season) === "2027-02-08" ? 8 : opensOn(season) === "all year" ? 9 : 6);
    });
    expect(tried.slice(0, 2)).toEqual(["none", "all year"]);
    expect(tried.slice(2).toSorted()).toEqual([
      "2027-01-25",
      "2027-02-01",
      "2027-02-08",
      "2027-02-15",
      "2027-02-22",
      "2027-03-01",
    ]);
    expect(values.filter((one) => !one.isNoise).map(({ day, gain }) => [day, gain.brews])).toEqual([[
      weeks[2],
      2,
    ]]);
  });

  test("every fourth week comes first, then those between", async () => {
    const values = await valuesOf((season) => made(season === demo ? 6 : 7));
    expect(values.map(({ day }) => weeks.indexOf(day))).toEqual([0, 4, 2, 1, 5, 3]);
  });

  test("where a whole line more brings nothing, no week is planned and each brings nothing", async () => {
    let tries = 0;
    const values = await valuesOf(() => {
      tries++;
      return made(6);
    });
    expect(tries).toBe(2);
    expect(values.map((one) => [one.day, one.isNoise])).toEqual(weeks.map((day) => [day, true]));
  });

  test("in words a week has its malt and its money, and noise has neither", () => {
    const gain = { brews: 0, promises: 0, homeMaltG: 600_000, roomG: 0, moneyCents: 54_000 };
    const words = (more: Partial<typeof gain>, isNoise = false) =>
      weekWords(demo, { day: 1, gain: { ...gain, ...more }, isNoise }).words;
    expect(words({})).toBe("1,320 lb less bought malt, 540 USD better");
    expect(words({ homeMaltG: 0 })).toBe("540 USD better");
    expect(words({ brews: 1, moneyCents: 0 })).toBe("1 more brew and 1,320 lb less bought malt");
    expect(words({}, true)).toBe("no measurable gain");
  });

  test("the weeks begin on the farm's first day of the week, after the held days, and end inside the horizon", () => {
    const all = weeksAhead(demo);
    expect(all.every((day) => weekday(day) === demo.weekStartsOn)).toBe(true);
    expect(all).toHaveLength(49);
    expect(weeksAhead({ ...demo, horizonEnd: "2027-01-20" })).toEqual([]);
  });
});
