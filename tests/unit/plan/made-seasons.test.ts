import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { finish } from "../../../core/search/finish.ts";
import type { Season } from "../../../core/season/season.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";
import { loadHighs } from "../../_support/highs.ts";
import { handSeason } from "../audit/_hand-season.ts";
import { plainStart } from "../search/_plain-start.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

// Between them these farms have everything a season may hold: bins and bag rows, beds turned by machine and by hand,
// substitutes, raw grain, asked-for fields, contracts, seed, bookings, and runs under way. A plan without any search is
// soon made and passes through the same books; and here nothing stands in for it when it breaks a rule.
describe("small made seasons, planned without search", () => {
  const seeds = [2, 3, 5, 6, 7, 8, 9, 10, 12, 13, 14, 15, 16, 17, 18, 19, 21, 22, 23, 24];

  test.each(seeds)("seed %i is audited clean", async (seed) => {
    const { plan, breaches } = await planned(makeSeason("small", seed));
    expect(breaches).toEqual([]);
    expect(plan.brews.length).toBeGreaterThan(0);
    expect(plan.runs.some((run) => run.standing === "not booked")).toBe(true);
  });
});

test("a brew of the tail counts when it is made, and not when the brewhouse is shut after the horizon", async () => {
  const tail = async (season: Season) => {
    const { plan } = await planned(season);
    return [plan.goals.tailMade, plan.unbrewed.map((brew) => brew.id).filter((id) => id.startsWith("tail-"))];
  };
  const shut = handSeason();
  shut.brewhouse.closed.push({ from: "2027-05-01", to: "2027-12-31", reason: "rebuilt" });
  expect([await tail(handSeason()), await tail(shut)]).toEqual([[1, []], [0, ["tail-b0"]]]);
});

/** The plan with the first few breaches in words. */
async function planned(season: Season): Promise<{ plan: Plan; breaches: string[] }> {
  const { candidate, ...by } = plainStart(season);
  const plan = { ...await emptyPlan(season), ...finish({ ...by, highs }, candidate) };
  return { plan, breaches: auditPlan(season, plan).slice(0, 5).map((breach) => breach.message) };
}
