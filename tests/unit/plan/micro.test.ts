import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { compareGoals } from "../../../core/plan/compare.ts";
import { makeNaivePlan, makePlan } from "../../../core/plan/make.ts";
import { loadHighs } from "../../_support/highs.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

describe("micro seasons", () => {
  // Those that are soon planned; `deno task campaign --size micro --count 100` asks the same of the others.
  const seeds = [2, 6, 9, 12];

  test.each(seeds)("seed %i is planned, audited clean and no worse than by the naive plan", async (seed) => {
    const season = microSeason(seed);
    const options = { seed: 1, iterations: 800, highs };
    const outcome = await makePlan(season, options);
    expect(outcome.kind).toBe("planned");
    if (outcome.kind !== "planned") return;
    expect(outcome.setAside).toEqual([]);
    expect(auditPlan(season, outcome.plan)).toEqual([]);
    // The naive plan looks at neither bag places nor origins, so it may break a rule; then it is no measure.
    const naive = await makeNaivePlan(season, options);
    if (auditPlan(season, naive).length === 0) {
      expect(compareGoals(outcome.plan.goals, naive.goals)).toBeLessThanOrEqual(0);
    }
  });

  test("a plan can be made without the exact weights, and a stop keeps the best so far", async () => {
    const season = microSeason(3);
    const bare = await makePlan(season, { seed: 1, iterations: 400, highs: null });
    expect(bare.kind).toBe("planned");
    let asked = 0;
    const stopped = await makePlan(season, {
      seed: 1,
      iterations: 4000,
      highs,
      cancelled: () => ++asked > 1,
    });
    expect(stopped.kind).toBe("planned");
    if (stopped.kind === "planned") expect(stopped.plan.stoppedEarly).toBe(true);
  });

  test("names and the order of rows change nothing but the hash", async () => {
    const season = microSeason(6);
    const renamed = structuredClone(season);
    for (const lot of renamed.lots) lot.name = `other ${lot.name}`;
    renamed.name = "Another farm";
    const goals = async (of: typeof season) => {
      const outcome = await makePlan(of, { seed: 1, iterations: 800, highs });
      return outcome.kind === "planned" ? { ...outcome.plan, seasonHash: "" } : null;
    };
    expect(await goals(renamed)).toEqual(await goals(season));
  });
});
