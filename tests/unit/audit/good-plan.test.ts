import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";

test("the hand-written plan keeps every rule", () => {
  expect(auditPlan(handSeason(), handPlan())).toEqual([]);
});
