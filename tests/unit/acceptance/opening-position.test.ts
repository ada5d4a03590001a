import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { addDays, dateOf } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { makeNaivePlan, makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { checkSeason } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { loadHighs } from "../../_support/highs.ts";
import { planOf, worse } from "./_micro-plans.ts";
import { restOf } from "./_rest.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** What a plan pays before a day, by its own lists. */
function paidBefore(season: Season, plan: Plan, date: string) {
  const before = <T extends { on: string }>(list: readonly T[]) => list.filter((one) => one.on < date);
  const sum = (parts: readonly number[]) => parts.reduce((all, part) => all + part, 0);
  return {
    runsCents: sum(
      plan.runs.filter((run) => run.standing !== "under way" && dateOf(run.steepInAt) < date).map((run) => {
        const made = season.maltTypes.find((malt) => malt.id === run.maltId)!.made;
        return made.from === "grain" ? made.runCents + made.perTonneCents * run.cleanG / 1e6 : 0;
      }),
    ),
    ordersCents: sum(plan.orders.filter((order) => order.orderedOn < date).map((order) => order.costCents)),
    feedCents: -sum(before(plan.feedLoads).map((load) => load.revenueCents)),
    movesCents: sum(
      before(plan.moves).map((move) =>
        season.costs.moveCents + season.costs.movePerTonneCents * move.massG / 1e6
      ),
    ),
  };
}

describe("acceptance: a plan stopped on a day whose state is entered as an opening position", () => {
  const DAYS = ["2027-02-01", "2027-03-01", "2027-05-05", "2027-11-10"];
  let season: Season;
  let plan: Plan;
  beforeAll(async () => {
    season = demoSeason();
    plan = await makeNaivePlan(season, { seed: 1, iterations: 0, highs });
  }, 120_000);

  test.each(DAYS)(
    "of the demo farm: on %s the rest of it is a sound plan of a sound season",
    async (date) => {
      const rest = await restOf(season, plan, date);
      const { findings } = checkSeason(rest.season, { asOf: rest.season.asOf });
      expect(findings.filter((one) => one.level === "error")).toEqual([]);
      expect(auditPlan(rest.season, rest.plan)).toEqual([]);
      // Nothing is lost or asked twice: what was made before and what is made after is what was to be made.
      const before = plan.brews.filter((brew) => brew.on < date && !brew.id.startsWith("tail-"));
      const made = rest.plan.goals.made.reduce((sum, count) => sum + count, 0);
      expect(made + before.length).toBe(plan.goals.made.reduce((sum, count) => sum + count, 0));
      expect(rest.plan.goals.tailMade).toBe(plan.goals.tailMade);
    },
  );

  test.each(DAYS)(
    "of the demo farm: on %s it costs what the whole costs less what was paid",
    async (date) => {
      const rest = (await restOf(season, plan, date)).plan.goals.money, whole = plan.goals.money;
      for (const [part, paid] of Object.entries(paidBefore(season, plan, date))) {
        const still = rest[part as keyof typeof rest];
        expect([part, Math.abs(whole[part as keyof typeof whole] - paid - still) < 3]).toEqual([part, true]);
      }
      expect(rest.endGrainCents).toBe(whole.endGrainCents);
      expect(rest.reserveCents).toBeLessThanOrEqual(whole.reserveCents);
    },
  );

  // The campaign `reopened` plans the rests of other days and of other micro seasons.
  test.each(DAYS.slice(2))(
    "of the demo farm: on %s a new plan that starts from the old one is no worse than the rest of it",
    async (date) => {
      const rest = await restOf(season, plan, date);
      const anew = await makePlan(rest.season, { seed: 1, iterations: 0, highs, from: plan });
      if (anew.kind !== "planned") throw new Error(anew.kind);
      expect(auditPlan(rest.season, anew.plan)).toEqual([]);
      expect(worse(anew.plan, rest.plan)).toBe("");
    },
  );

  // A micro season's plan is as good as any, so a new plan of its rest has to be as good as the rest without starting from it.
  test.each([8, 50])(
    "of micro season %i: planned anew, the rest is as good and costs the same",
    async (seed) => {
      const micro = microSeason(seed);
      micro.roster.heldDays = 0;
      const first = await planOf(highs, micro);
      for (const after of [4, 9, 22]) {
        const rest = await restOf(micro, first, addDays(dateOf(micro.asOf), after));
        expect([after, auditPlan(rest.season, rest.plan)]).toEqual([after, []]);
        const anew = await planOf(highs, rest.season);
        expect([after, worse(anew, rest.plan), worse(rest.plan, anew)]).toEqual([after, "", ""]);
      }
    },
  );
});
