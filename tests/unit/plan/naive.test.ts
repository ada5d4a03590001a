import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { addDays } from "../../../core/calendar.ts";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { FIRST_DAY, fourTonneHouse } from "../outside/planner/_four-tonne-house.ts";

const T = 1_000_000;

test("the naive plan makes malt for sale as it does for brews", async () => {
  const season = fourTonneHouse({ germinationHours: 96, cleaningHours: 0 });
  season.brews = [];
  season.contracts = [{
    kind: "sell-malt",
    id: "sale",
    party: "a brewer down the road",
    maltId: "pale",
    massG: 6 * T,
    from: addDays(FIRST_DAY, 30),
    to: addDays(FIRST_DAY, 60),
    perTonneCents: 100_000,
    class: 1,
  }];
  const plan = await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null });
  expect(plan.runs).toHaveLength(2);
  expect(plan.maltDeliveries.map((one) => one.contractId)).toContain("sale");
  // Nothing is fed, and no money of it is no "minus nothing".
  expect(plan.goals.money.feedCents).toBe(0);
  expect(auditPlan(season, plan)).toEqual([]);
});
