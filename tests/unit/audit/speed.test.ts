/** Every accepted plan is audited, so an audit of a year has to be quick: 60 runs and 150 brews in less than 100 ms. */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { addDays } from "../../../core/calendar.ts";
import { handPlan, run } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of } from "./_variant.ts";

function bigYear() {
  const season = handSeason(), plan = handPlan();
  season.horizonEnd = "2028-05-20";
  season.opening.grain[2]!.massG = 100_000_000;
  for (let week = 0; week < 60; week++) {
    const draws = [{ lotId: "b", storeId: "bin-3", massG: 1_000_000 }];
    plan.runs.push(run(addDays("2027-04-13", 7 * week), { id: `w${week}`, draws }));
  }
  const half = of(plan.brews, "b5"), calendar = of(season.brews, "b5");
  for (let brew = 0; brew < 150; brew++) {
    const on = addDays("2027-05-03", 2 * brew), id = `n${brew}`;
    season.brews.push({ ...calendar, id, on, earliest: on, latest: addDays(on, 3) });
    const grist = structuredClone(half.grist);
    grist[0]!.from = { kind: "batch", batchId: `w${Math.floor(brew / 4)}-pale` };
    plan.brews.push({ ...half, id, on, grist });
  }
  return { season, plan };
}

test("a year is audited in less than 100 ms once warm", () => {
  const { season, plan } = bigYear();
  for (let round = 0; round < 5; round++) auditPlan(season, plan);
  // The least of several: the machine may have been busy with something else.
  const times = Array.from({ length: 7 }, () => {
    const start = performance.now();
    auditPlan(season, plan);
    return performance.now() - start;
  });
  expect(Math.min(...times)).toBeLessThan(100);
});
