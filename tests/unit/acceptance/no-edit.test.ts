import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { microSeason } from "../../../core/generate/micro.ts";
import { makePlan } from "../../../core/plan/make.ts";
import { type Plan, planSchema } from "../../../core/plan/plan.ts";
import { checkSeason } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { loadHighs } from "../../_support/highs.ts";

/** Seeds that are soon planned. */
const SEEDS = [8, 50, 65];

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

async function planned(
  season: Season,
  { seed, iterations }: Pick<Plan, "seed" | "iterations">,
  asOf?: string,
): Promise<Plan> {
  const outcome = await makePlan(season, {
    seed,
    iterations,
    highs,
    ...(asOf === undefined ? {} : { asOf }),
  });
  if (outcome.kind !== "planned") throw new Error(JSON.stringify(outcome).slice(0, 2000));
  return outcome.plan;
}

const saved = <T>(value: T): unknown => JSON.parse(JSON.stringify(value));

describe("acceptance: a saved plan re-planned with no edit", () => {
  // The demo farm's, made twice from its file, stands in `tests/unit/plan/demo.test.ts`.
  test.each(SEEDS)("of micro season %i moves no run", async (seed) => {
    const season = microSeason(seed);
    const plan = planSchema.parse(saved(await planned(season, { seed: 3, iterations: 300 })));
    // Both have been on disk, and the effort is what the plan says it was.
    const again = await planned(checkSeason(saved(season)).season!, plan);
    expect(again.runs).toEqual(plan.runs);
    expect(saved(again)).toEqual(plan);
  });

  test.each(SEEDS)(
    "of micro season %i an hour later the same day moves none either",
    async (seed) => {
      const season = microSeason(seed);
      const plan = await planned(season, { seed: 3, iterations: 300 });
      const later = `${season.asOf.slice(0, 11)}07:00`;
      const { runs, brews } = await planned(season, plan, later);
      expect(runs).toEqual(plan.runs);
      expect(brews).toEqual(plan.brews);
    },
  );
});
