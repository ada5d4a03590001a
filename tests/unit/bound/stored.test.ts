import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { boundFaults } from "../../../core/bound/stored.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makePlan } from "../../../core/plan/make.ts";
import { type Plan, planSchema } from "../../../core/plan/plan.ts";
import { moneyGapOf } from "../../../core/plan/plan-bound.ts";
import { type Problem, problemOf } from "../../../core/search/problem.ts";
import { loadHighs } from "../../_support/highs.ts";

let highs: Highs;
let problem: Problem;
let plan: Plan;
/** Told while the plan was made. */
const told: Plan[] = [];

beforeAll(async () => {
  highs = await loadHighs();
  const season = makeSeason("micro", 6);
  problem = problemOf(season, season.fixedAsOf ?? season.asOf);
  const outcome = await makePlan(season, {
    seed: 1,
    iterations: 400,
    highs,
    prove: true,
    onProgress: ({ best }) => best && told.push(best),
  });
  if (outcome.kind !== "planned") throw new Error(outcome.kind);
  plan = outcome.plan;
});

interface Leaf {
  cuts: unknown[];
  duals: [number, number][];
}

/** The proofs of the cases into which the proof of money is split. */
function leavesOf({ bound }: Plan): Leaf[] {
  const found: Leaf[] = [];
  const walk = (tree: unknown) => {
    const { below, above, ...leaf } = tree as { below?: unknown; above?: unknown } & Leaf;
    if (below === undefined) return found.push(leaf);
    walk(below);
    walk(above);
  };
  walk(bound!.money!.proof);
  return found;
}

describe("the bound that a plan carries", () => {
  test("is written to the file and read again", () => {
    expect(plan.bound).toBeDefined();
    expect(planSchema.parse(JSON.parse(JSON.stringify(plan)))).toEqual(plan);
  });

  test("is there as soon as it is proven, with plans that are not yet the last", () => {
    expect(told.some((one) => one.bound !== undefined)).toBe(true);
    expect(told[0]!.bound).toBeUndefined();
  });

  test("holds when it is recomputed from its dual values", () => {
    expect(boundFaults(problem, plan)).toEqual([]);
    expect(moneyGapOf(plan)).toBeGreaterThanOrEqual(0);
  });

  test("that claims more than its proof gives is told", () => {
    const bold = structuredClone(plan);
    bold.bound!.money!.leastCents += 100;
    expect(boundFaults(problem, bold)).toEqual([expect.stringContaining("The proof gives")]);
  });

  test("whose dual values were changed proves less", () => {
    const other = structuredClone(plan);
    for (const { duals } of leavesOf(other)) duals.forEach((dual) => dual[1] = 0);
    expect(boundFaults(problem, other)).toHaveLength(1);
  });

  test("with cuts of no known shape cannot be recomputed, and is told so", () => {
    const odd = structuredClone(plan);
    leavesOf(odd)[0]!.cuts.push({ kind: "none" }, null);
    expect(boundFaults(problem, odd)).toEqual([expect.stringContaining("cannot be recomputed")]);
  });

  test("is left out where nobody asked for it", async () => {
    const season = makeSeason("micro", 6);
    const outcome = await makePlan(season, { seed: 1, iterations: 400, highs });
    const { bound: _, ...bare } = plan;
    expect(outcome.kind === "planned" && outcome.plan).toEqual(bare);
  });
});
