import { afterEach, beforeEach, expect, test } from "vitest";
import type { Plan } from "../../core/plan/plan.ts";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { twoPlans } from "../_support/better-plan.ts";

const { season, present, better } = await twoPlans();
const id = season.id;

/** What a look might have proven: nothing more of anything, and money that is nearly the least. */
const bound: Plan["bound"] = {
  made: present.goals.made.map((most) => ({ most, proof: null })) as NonNullable<Plan["bound"]>["made"],
  promises: { most: present.goals.promisesHeld, proof: null },
  tail: { most: present.goals.tailMade, proof: null },
  money: {
    leastCents: better.goals.moneyCents - 100,
    fixedCents: better.goals.moneyCents - 10_000_000,
    proof: { cuts: [], duals: [] },
  },
};

let app: TestApp;
beforeEach(async () => {
  app = openTestApp();
  await app.send("POST", "/api/seasons", season);
  await app.get(`/seasons/${id}`);
  await app.thread.end({ kind: "planned", plan: present });
});
afterEach(() => app.parts.close());

let rounds = 0;
beforeEach(() => void (rounds = 0));
/** Ends the round that is worked on with this plan. */
async function find(plan: Plan): Promise<void> {
  await expect.poll(() => app.thread.looks.length).toBeGreaterThan(rounds);
  rounds = app.thread.looks.length;
  await app.thread.end({ kind: "planned", plan });
}
const storedPlan = async () => await (await app.get(`/api/seasons/${id}/plan`)).json();
const page = async () => await (await app.get(`/seasons/${id}`)).text();

test("what a look proves holds for the present plan too, and the page says so", async () => {
  expect((await page()).includes("Proven:")).toBe(false);
  await find({ ...present, bound });
  expect(await storedPlan()).toEqual({ ...present, bound });
  expect(/Proven[^<]*/.exec(await page())?.[0]).toContain("no plan makes more brews or keeps more promises");
});

test("a bound of other counts, of another season or of another minute is not carried over", async () => {
  const { goals } = present;
  for (
    const other of [
      { ...present, bound, goals: { ...goals, promisesHeld: goals.promisesHeld - 1 } },
      { ...present, bound, seasonHash: "0".repeat(64) },
      { ...present, bound, asOf: "2027-01-19T07:00" },
    ]
  ) await find(other);
  expect(await storedPlan()).toEqual(present);
});

test("a bound that the plan has is not replaced", async () => {
  await find({ ...present, bound });
  await find({ ...present, bound: { ...bound, money: null } });
  expect(await storedPlan()).toEqual({ ...present, bound });
});
