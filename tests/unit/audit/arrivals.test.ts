/** What still comes, when, and how much. */
import { expect, test } from "vitest";
import { arrivals } from "../../../core/audit/arrivals.ts";
import { dayNumber, isoDate } from "../../../core/calendar.ts";
import type { Season } from "../../../core/season/season.ts";
import { handSeason } from "./_hand-season.ts";
import { of } from "./_variant.ts";

const AS_OF = "2027-05-03", PLAN_END = "2027-07-23";

function coming(change: (season: Season) => void = () => {}): string[] {
  const season = handSeason();
  change(season);
  return arrivals(season, dayNumber(AS_OF), dayNumber(PLAN_END)).map(({ lotId, day, massG }) =>
    `${lotId} ${isoDate(day)} ${massG}`
  );
}

const F = "f 2027-07-05 3723109", G = "g 2027-05-03 800000";
const plantF = (season: Season) => of(season.plantings, "plant-f");
const buyG = (season: Season) => of(season.contracts, "buy-g") as { on: string };
const fill = (season: Season, lotId: string, on: string) =>
  season.records.fills.push({ id: "fill", on, lotId, storeId: "bags", massG: 800_000 });

test.each<[string, (season: Season) => void, string[]]>([
  ["a harvest and a purchase", () => {}, [F, G]],
  ["a harvest of the day itself", (season) => plantF(season).harvest.likely = AS_OF, [
    "f 2027-05-03 3723109",
    G,
  ]],
  ["a harvest that should be over comes tomorrow", (season) => plantF(season).harvest.likely = "2027-05-02", [
    "f 2027-05-04 3723109",
    G,
  ]],
  ["a harvest of the plan's last day", (season) => plantF(season).harvest.likely = PLAN_END, [
    "f 2027-07-23 3723109",
    G,
  ]],
  ["a harvest after the plan's end", (season) => plantF(season).harvest.likely = "2027-07-24", [G]],
  ["a planting that is only planned", (season) => plantF(season).state = "planned", [F, G]],
  ["a planting that is lost", (season) => plantF(season).state = "lost", [G]],
  ["a lot that has been weighed", (season) => of(season.lots, "f").forecast = false, [G]],
  // 3,980 kg stay after handling; grain that is dry enough is not wetted: x 0.98.
  ["grain drier than asked for", (season) => plantF(season).moistureAtHarvestWb = 0.11, [
    "f 2027-07-05 3900400",
    G,
  ]],
  ["a purchase that came this morning", (season) => fill(season, "g", AS_OF), [F]],
  ["a purchase of which another part came before", (season) => fill(season, "g", "2027-05-02"), [F, G]],
  ["another lot that came this morning", (season) => fill(season, "b", AS_OF), [F, G]],
  ["a purchase of yesterday is a matter of records", (season) => buyG(season).on = "2027-05-02", [F]],
])("%s", (_, change, expected) => {
  expect(coming(change)).toEqual(expected);
});
