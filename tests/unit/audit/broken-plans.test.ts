import { describe, expect, test } from "vitest";
import { auditPlan, RULES } from "../../../core/audit/audit.ts";
import { planSchema } from "../../../core/plan/plan.ts";
import { seasonSchema } from "../../../core/season/season.ts";
import { BROKEN_ANSWERS } from "./_broken-answers.ts";
import { BROKEN_BREWS } from "./_broken-brews.ts";
import { BROKEN_RUNS } from "./_broken-runs.ts";
import { BROKEN_STOCKS } from "./_broken-stocks.ts";
import { BROKEN_TIMES } from "./_broken-times.ts";
import { BROKEN_TRADE } from "./_broken-trade.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";

const BROKEN = [
  ...BROKEN_TIMES,
  ...BROKEN_RUNS,
  ...BROKEN_STOCKS,
  ...BROKEN_BREWS,
  ...BROKEN_TRADE,
  ...BROKEN_ANSWERS,
];

describe("a good plan broken in one way shows that breach and no other", () => {
  test.each(BROKEN)("$what", ({ rules, breaks }) => {
    const season = handSeason(), plan = handPlan();
    breaks(season, plan);
    const breaches = auditPlan(seasonSchema.parse(season), planSchema.parse(plan));
    const seen = breaches.map((breach) => breach.rule).sort();
    expect(seen, JSON.stringify(breaches, null, 1)).toEqual([...rules].sort());
    for (const { message, found, limit } of breaches) {
      expect(message).toMatch(/^[A-Z0-9a-z].*\.$/);
      expect(found === "" || limit === "" || /undefined|NaN|\[object/.test(message + found + limit)).toBe(
        false,
      );
    }
  });
});

test("every rule has a plan that breaks it", () => {
  const covered = new Set(BROKEN.flatMap((variant) => variant.rules));
  expect(RULES.map((rule) => rule.id).filter((id) => !covered.has(id))).toEqual([]);
  expect(new Set(RULES.map((rule) => rule.id)).size).toBe(RULES.length);
});
