/** Plans of seasons in which malt has been delivered under a contract, judged as DEVELOPERS.md says: "What is asked" and "Grain". */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { finish } from "../../../core/search/finish.ts";
import type { Season } from "../../../core/season/season.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";
import { soldOf, T } from "../search/_malt-sold.ts";
import { plainStart } from "../search/_plain-start.ts";

async function planned(season: Season): Promise<Plan> {
  const { candidate, ...by } = plainStart(season);
  return { ...await emptyPlan(season), ...finish({ ...by, highs: null }, candidate) };
}

const rulesBroken = (
  season: Season,
  plan: Plan,
) => [...new Set(auditPlan(season, plan).map((one) => one.rule))];
/** A delivery of so much of the malt that lies in store. */
const sale = (on: string, massG: number) => ({
  contractId: "sale",
  on,
  from: [{ batchId: "old-pale", massG }],
});

test("a contract delivered in part: a plan that delivers the rest is clean, one that delivers the whole is not", async () => {
  const season = soldOf([2.5 * T]), plan = await planned(season);
  expect(rulesBroken(season, plan)).toEqual([]);
  const on = plan.maltDeliveries[0]!.on;
  expect(plan.maltDeliveries).toEqual([sale(on, 3.5 * T)]);
  expect(rulesBroken(season, { ...plan, maltDeliveries: [sale(on, 6 * T)] })).toContain("malt-contract");
  expect(rulesBroken(season, { ...plan, maltDeliveries: [] })).toContain("contract-missing");
});

test("a contract delivered whole: a plan without it is clean, one that delivers it again is not", async () => {
  const season = soldOf([6 * T]), plan = await planned(season);
  expect(rulesBroken(season, plan)).toEqual([]);
  expect(plan.goals.asked).toEqual([0, 0, 0]);
  expect(rulesBroken(season, { ...plan, maltDeliveries: [sale("2027-02-01", 6 * T)] })).toContain(
    "malt-contract",
  );
});

test("malt that was delivered is in the store no more", async () => {
  const season = soldOf([4 * T]);
  // Of five tonnes four went: one is left for the two still due.
  season.opening.malt[0]!.massG = 5 * T;
  const plan = await planned(season);
  expect(rulesBroken(season, plan)).toEqual([]);
  const [delivery] = plan.maltDeliveries;
  const on = delivery?.on ?? "2027-02-01";
  expect(rulesBroken(season, { ...plan, maltDeliveries: [sale(on, 2 * T)] })).toContain("batch-overdrawn");
});
