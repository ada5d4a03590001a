import { describe, expect, test } from "vitest";
import { findCauses } from "../../../core/explain/causes.ts";
import type { Resolve } from "../../../core/explain/resolve.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { seasonCauses } from "../../_campaigns/causes/season-causes.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

const demo = demoSeason();
const base = await emptyPlan(demo);
/** The empty plan as if of ten brews asked so many were made, at a cost. */
function made(brews: number, moneyCents = 0): Plan {
  const goals = { ...base.goals, made: [brews, 0, 0], asked: [10, 0, 0], promisesHeld: brews, moneyCents };
  return { ...base, goals: goals as Plan["goals"] };
}
const beds = (season: Season) => season.vessels.filter((one) => one.stages.includes("bed")).length > 1;
const kilns = (season: Season) => season.vessels.filter((one) => one.stages.includes("kiln")).length > 1;
const places = (season: Season) => season.maltStore.places > demo.maltStore.places;
const tanks = (season: Season) => season.tanks.length > demo.tanks.length;
const causes = (resolve: (season: Season) => Plan | null, plan = made(6)) =>
  findCauses(demo, plan, [], ((season) => Promise.resolve(resolve(season))) as Resolve);

describe("what taking limits away shows", () => {
  test("the one that brings most is the tightest, with what it brings", async () => {
    const found = await causes((season) => made(tanks(season) ? 9 : kilns(season) ? 7 : 6));
    expect(found.tightest).toMatchObject({ limits: ["tanks"], evidence: { brews: 3, promises: 3 } });
    const kiln = found.tried.find((one) => one.limit === "kiln");
    expect(kiln?.gain.brews).toBe(1);
  });

  test("two that do nothing alone are found together, and no third with them", async () => {
    const found = await causes((season) => made(places(season) && beds(season) ? 8 : 6));
    expect(found.tightest?.limits).toEqual(["store", "bed"]);
    expect(found.tightest?.evidence.brews).toBe(2);
  });

  test("nothing binds where all is made, whatever money could be saved", async () => {
    const found = await causes(() => made(10, -100_000), made(10));
    expect(found.tightest).toBe(null);
  });

  test("nothing binds where more of everything makes no more", async () => {
    expect((await causes(() => made(6, -100_000))).tightest).toBe(null);
  });

  test("a search that only had another go proves nothing", async () => {
    const found = await causes(() => made(8));
    expect(found.tightest).toBe(null);
  });

  test("an eased season that is planned worse, or not at all, counts for nothing, never for less", async () => {
    const found = await causes((season) => tanks(season) ? null : made(season === demo ? 6 : 4));
    expect(found.tightest).toBe(null);
    expect(found.tried.every(({ gain }) => gain.brews === 0 && gain.moneyCents === 0)).toBe(true);
  });
});

describe("one limit planted in a made season is the one that is named", () => {
  test.each([["tanks", 4], ["bins", 6], ["grain", 13]] as const)("%s, seed %i", async (limit, seed) => {
    const found = await seasonCauses(null, makeSeason("micro", seed, limit), 2400);
    expect(found?.causes.tightest?.limits).toEqual([limit]);
  });

  test("and nothing where none was planted", async () => {
    const found = await seasonCauses(null, makeSeason("micro", 3, "none"), 2400);
    expect(found?.causes.tightest).toBe(null);
  });
});
