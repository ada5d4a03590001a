import fc from "fast-check";
import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { changedRuns, unrestOf } from "../../../core/plan/changed-runs.ts";
import { compareGoals } from "../../../core/plan/compare.ts";
import { makePlan } from "../../../core/plan/make.ts";
import { type Plan, planSchema } from "../../../core/plan/plan.ts";
import { replan, ReplanCache } from "../../../core/plan/replan.ts";
import type { Season } from "../../../core/season/season.ts";
import { FARM_EDITS, farmEdit } from "../../_support/farm-edits.ts";
import { loadHighs } from "../../_support/highs.ts";

/** Small farms of which the first plan is soon made. */
const SEEDS = [2, 5];
const accepted = new Map<number, { season: Season; plan: Plan }>();

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
  for (const seed of SEEDS) {
    const season = makeSeason("small", seed);
    const outcome = await makePlan(season, { seed: 1, iterations: 400, highs });
    if (outcome.kind !== "planned") throw new Error(`season ${seed} was not planned`);
    accepted.set(seed, { season, plan: outcome.plan });
  }
}, 120_000);

async function again(season: Season, from: Plan, more: { cache?: ReplanCache; iterations?: number } = {}) {
  const outcome = await replan(season, from, { seed: 1, iterations: 40, highs, ...more });
  if (outcome.kind !== "planned") throw new Error(JSON.stringify(outcome).slice(0, 1000));
  return outcome.plan;
}

const counts = ({ goals }: Plan) => ({ ...goals, moneyCents: 0 });

describe("a re-plan", () => {
  test.each(SEEDS)("of season %i without an edit is the accepted plan, byte for byte", async (seed) => {
    const { season, plan } = accepted.get(seed)!;
    expect(JSON.stringify(await again(structuredClone(season), plan))).toBe(JSON.stringify(plan));
  });

  test.each(SEEDS)("of season %i under another name moves no run", async (seed) => {
    const { season, plan } = accepted.get(seed)!;
    const next = await again({ ...season, name: "Another Name" }, plan);
    expect(unrestOf(changedRuns(plan, next))).toBe(0);
    expect(next.goals).toEqual(plan.goals);
    expect(next.against).toEqual({ seasonHash: plan.seasonHash, revision: 0, asOf: plan.asOf });
    expect(planSchema.parse(JSON.parse(JSON.stringify(next)))).toEqual(next);
  });

  test("counts what its changed runs cost in its money, and says against which plan", async () => {
    const { season, plan } = accepted.get(2)!;
    const down = farmEdit("vessel down", season, plan, (below) => Math.floor(below / 3), "x")!;
    const next = await again(down, plan);
    const moved = changedRuns(plan, next).moved.length;
    expect(next.goals.money.changedRunsCents).toBe(moved * season.costs.changedRunCents);
    expect(auditPlan(down, next)).toEqual([]);
  });

  test("touches neither the held days nor what is booked", async () => {
    const { season, plan } = accepted.get(5)!;
    const [first] = plan.runs.filter((run) => run.standing === "not booked");
    const { id, draws, maltId, profileId, vesselIds, steepInAt, castAt, kilnAt, stripAt } = first!;
    const booked = structuredClone(season);
    booked.bookings.runs.push({
      ...{ id, draws, maltId, profileId, vesselIds, steepInAt, castAt, kilnAt, stripAt },
    });
    const next = await again(booked, plan);
    expect(next.runs.find((run) => run.id === id)).toEqual({ ...first, standing: "booked" });
    expect(unrestOf(changedRuns(plan, next))).toBe(0);
  });

  test("takes up again what was no longer made while a vessel was down", async () => {
    const { season, plan } = accepted.get(2)!;
    const shut = structuredClone(season);
    const day = plan.runs[0]!.steepInAt.slice(0, 10);
    for (const vessel of shut.vessels) {
      vessel.closures.push({ from: `${day}T00:00`, to: `${season.horizonEnd}T00:00`, reason: "rebuilt" });
    }
    const without = await again(shut, plan);
    expect(without.runs.filter((run) => run.standing === "not booked").length).toBeLessThan(plan.runs.length);
    const back = await again(season, without);
    expect(compareGoals(counts(back), counts(without))).toBeLessThanOrEqual(0);
    expect(back.runs.length).toBeGreaterThan(without.runs.length);
  });
});

test("any edit a farm makes gives an audited plan, the same with what is remembered as without", async () => {
  const caches = new Map(SEEDS.map((seed) => [seed, new ReplanCache()]));
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...SEEDS),
      fc.array(fc.tuple(fc.constantFrom(...FARM_EDITS), fc.nat(1000)), { minLength: 1, maxLength: 3 }),
      async (seed, edits) => {
        let { season, plan } = accepted.get(seed)!;
        for (const [n, [kind, draw]] of edits.entries()) {
          let step = draw;
          const pick = (below: number) => (step = (step * 7919 + 104_729) % 1_000_003) % below;
          const edited = farmEdit(kind, season, plan, pick, `edit-${n}`);
          if (edited === null) continue;
          const next = await again(edited, plan, { cache: caches.get(seed)! });
          expect(auditPlan(edited, next)).toEqual([]);
          expect(JSON.stringify(await again(edited, plan))).toBe(JSON.stringify(next));
          [season, plan] = [edited, next];
        }
      },
    ),
    { seed: 20261129, numRuns: 8 },
  );
}, 120_000);

test("a season that cannot be planned says why", async () => {
  const { season, plan } = accepted.get(5)!;
  const broken = structuredClone(season);
  broken.lots[0]!.formedOn = "2099-01-01";
  broken.brews[0]!.beerId = "no-such-beer";
  expect((await replan(broken, plan, { seed: 1, highs })).kind).toBe("cannot");
});
