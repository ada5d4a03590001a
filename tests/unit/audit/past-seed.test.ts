/** Seed of days gone by has no record of its store: the auditor keeps the rule of DEVELOPERS.md, and the book agrees with it. */
import { describe, expect, test } from "vitest";
import { context } from "../../../core/audit/context.ts";
import { bookAt } from "../../../core/book/book.ts";
import { dayNumber } from "../../../core/calendar.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";

const at = (storeId: string, massG: number) => ({ lotId: "b", storeId, massG });
const seed = (id: string, on: string, massG: number) => ({ id, lotId: "b", massG, on });
const count = (on: string, storeId: string, deltaG: number) => ({
  id: `count-${on}`,
  on,
  lotId: "b",
  storeId,
  deltaG,
  reason: "weighed",
});

/** 600 g of lot b in bin 3 on 4 January and 500 g more in bin 1 on the 6th. As-of is the 18th. */
function stocks(change: (season: Season) => void) {
  const season = handSeason(), plan = handPlan();
  season.opening.grain = [at("bin-3", 600)];
  season.records.runs = [];
  season.records.fills = [{ id: "f", on: "2027-01-06", ...at("bin-1", 500) }];
  change(season);
  for (
    const list of [plan.runs, plan.brews, plan.fills, plan.moves, plan.feedLoads, plan.seedTaken]
  ) list.length = 0;
  plan.grainDeliveries = [];
  const { grain } = context(season, plan), book = bookAt(season, plan.asOf).grain.get("b");
  return ["bin-1", "bin-3"].map((storeId) => {
    const massG = grain.stockG("b", storeId, dayNumber("2027-01-18"));
    expect(Math.max(0, massG)).toBe(book?.get(storeId) ?? 0);
    return massG;
  });
}

describe("past seed leaves", () => {
  test("in order of day, whatever the order in the file", () => {
    const later = [seed("s2", "2027-01-12", 400), seed("s1", "2027-01-08", 500)];
    expect(stocks((season) => season.seedReserves = later)).toEqual([200, 0]);
  });

  test("and is seen by the next reserve though a record came later", () => {
    expect(stocks((season) => {
      season.seedReserves = [seed("s1", "2027-01-08", 500), seed("s2", "2027-01-12", 400)];
      season.records.adjustments = [count("2027-01-15", "bin-3", 10)];
    })).toEqual([200, 10]);
  });

  test("the store that was filled first, and of one day the season's first", () => {
    expect(stocks((season) => season.seedReserves = [seed("s1", "2027-01-08", 450)])).toEqual([500, 150]);
    expect(stocks((season) => {
      season.opening.grain.push(at("bin-1", 20));
      season.seedReserves = [seed("s1", "2027-01-05", 450)];
    })).toEqual([500, 170]);
  });

  test("the first of all short of what none holds, as a count may set right", () => {
    const short = [seed("s1", "2027-01-08", 1150)];
    expect(stocks((season) => season.seedReserves = short)).toEqual([0, 0]);
    expect(stocks((season) => {
      season.seedReserves = short;
      season.records.adjustments = [count("2027-01-15", "bin-3", 51)];
    })).toEqual([0, 1]);
  });
});
