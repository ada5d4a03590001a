import { expect, test } from "vitest";
import type { Explanation } from "../../../core/explain/explanation.ts";
import { explain } from "../../../core/explain/explain.ts";
import { weeksAhead } from "../../../core/explain/run-values.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Season } from "../../../core/season/season.ts";
import { plan, season } from "../../_support/explained.ts";

test("an explanation grows step by step to its end, and the season as it stands is planned but once", async () => {
  let own = 0;
  const resolve = async (asked: Season) => {
    if (asked === season) own++;
    const outcome = await makePlan(asked, {
      seed: 1,
      iterations: 0,
      asOf: plan.asOf,
      highs: null,
      from: plan,
    });
    return outcome.kind === "planned" ? outcome.plan : null;
  };
  const steps: Explanation[] = [];
  for await (const one of explain(season, plan, resolve)) steps.push(one);
  const last = steps.at(-1)!;
  expect(own).toBe(1);
  expect(steps.slice(0, -1).every((one) => one.doing !== "")).toBe(true);
  expect(last.doing).toBe("");
  expect(last.limits).toEqual(["store"]);
  expect(last.limit).toMatch(/^The room for malt is the tightest limit/);
  expect(last.remedies.length).toBeGreaterThan(3);
  expect(last.weeks.map((one) => one.day)).toEqual(weeksAhead(season));
  const felt = last.shortfalls.filter((one) => one.isFelt && one.limits.length > 0);
  expect(felt.length).toBeGreaterThan(0);
  // What is known stays known: nothing that was told goes again.
  for (const key of ["remedies", "weeks", "failing", "acres"] as const) {
    const lengths = steps.map((one) => one[key].length);
    expect(lengths).toEqual(lengths.toSorted((a, b) => a - b));
  }
});
