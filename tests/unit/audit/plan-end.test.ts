/** A plan ends twelve weeks after the horizon: 84 days after 30 April is 23 July. */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of, retime } from "./_variant.ts";

const LAST = "2027-07-23";
const AFTER = "2027-07-24";

function late(change: (plan: Plan) => void): string[] {
  const plan = handPlan();
  change(plan);
  return auditPlan(handSeason(), plan).filter(({ rule }) => rule === "after-plan-end").map(({ thing }) =>
    thing
  );
}

test.each<[string, string, (plan: Plan, on: string) => void]>([
  ["a steep-in", "r6", (plan, on) => {
    retime(of(plan.runs, "r6"), `${on}T08:00`, `${on}T09:00`, `${on}T10:00`, `${on}T11:00`);
  }],
  ["a brew", "tail-b0", (plan, on) => void (of(plan.brews, "tail-b0").on = on)],
  ["a feed load", "fl1", (plan, on) => void (plan.feedLoads[0]!.on = on)],
  ["a booked feed load", "fl1", (plan, on) => {
    Object.assign(plan.feedLoads[0]!, { on, standing: "booked" });
  }],
  ["a move", "mv1", (plan, on) => void (plan.moves[0]!.on = on)],
  ["a drum load", "drum-1", (plan, on) => void (plan.drums[0]!.on = on)],
  ["sold grain", "sell-b", (plan, on) => void (plan.grainDeliveries[0]!.on = on)],
  ["sold malt", "sell-pale", (plan, on) => void (plan.maltDeliveries[0]!.on = on)],
  ["the arrival of an order", "o1", (plan, on) => void (plan.orders[0]!.arrivesOn = on)],
])("%s lies on the last day at the latest", (_, thing, lay) => {
  expect(late((plan) => lay(plan, LAST))).toEqual([]);
  expect(late((plan) => lay(plan, AFTER))).toEqual([thing]);
});

test("a run steeped on the last day may be stripped after it", () => {
  const strip = (plan: Plan) =>
    retime(of(plan.runs, "r6"), `${LAST}T08:00`, "2027-07-25T08:00", "2027-07-29T08:00", "2027-07-30T08:00");
  expect(late(strip)).toEqual([]);
});

test("seed after the end may stand in the plan, and so may a booked order that comes then", () => {
  expect(late((plan) => void (plan.seedTaken[0]!.on = AFTER))).toEqual([]);
  const booked = { standing: "booked", arrivesOn: AFTER } as const;
  expect(late((plan) => void Object.assign(plan.orders[0]!, booked))).toEqual([]);
});
