import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { auditPlan } from "../../core/audit/audit.ts";
import { compareGoals } from "../../core/plan/compare.ts";
import type { Plan } from "../../core/plan/plan.ts";
import { seasonSchema } from "../../core/season/season.ts";
import { ORDER } from "../../routes/_solver/order.ts";
import { openThread, type Thread } from "../../routes/_solver/thread.ts";
import { makeSeason } from "../../core/generate/make-season.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { demoSeason } from "../_support/demo.ts";
import { emptyPlan } from "../_support/empty-plan.ts";

const season = seasonSchema.parse(bareSeason);
const order = { kind: "plan" as const, season, asOf: season.asOf, revision: 1, ...ORDER };
const silent = () => {};

let thread: Thread;
afterEach(() => thread.close());

describe("the real worker", () => {
  beforeEach(() => void (thread = openThread()));

  test("plans two seasons one after the other, and both plans pass the auditor", async () => {
    for (const name of ["One", "Two"]) {
      const named = { ...season, name };
      const ending = await thread.run({ ...order, season: named }, silent);
      expect(ending.kind).toBe("planned");
      if (ending.kind === "planned") expect(auditPlan(named, ending.plan)).toEqual([]);
    }
  });

  test("a season that makes the planner throw is an ending, not a crash", async () => {
    const broken = { ...season, zone: "Nowhere/None" };
    const ending = await thread.run({ ...order, season: broken }, silent);
    expect(["broken", "cannot"]).toContain(ending.kind);
    expect((await thread.run(order, silent)).kind).toBe("planned");
  });
});

describe("a stop", () => {
  beforeEach(() => void (thread = openThread()));
  const demo = demoSeason();
  const long = { ...order, season: demo, asOf: demo.asOf, iterations: 1_000_000 };

  /** How long the running job takes to end after `ask`, in milliseconds. */
  async function timed(running: Promise<unknown>, ask: () => void): Promise<number> {
    const began = performance.now();
    ask();
    await running;
    return performance.now() - began;
  }

  test("is honoured within a second while the first plan is weighed, and the next job is done", async () => {
    let begin = () => {};
    const begun = new Promise<void>((resolve) => begin = resolve);
    // Its first plan takes some seconds to weigh.
    const large = makeSeason("large", 1);
    const running = thread.run({ ...long, season: large, asOf: large.asOf }, () => begin());
    await begun;
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(await timed(running, () => thread.stop())).toBeLessThan(1000);
    expect((await running).kind).toBe("broken");
    expect((await thread.run(order, silent)).kind).toBe("planned");
  });

  test("is honoured within a second while it searches, and the best plan found stays", async () => {
    const small = makeSeason("small", 3);
    let best: Plan | undefined;
    let search = () => {};
    const searching = new Promise<void>((resolve) => search = resolve);
    const running = thread.run({ ...long, season: small, asOf: small.asOf }, (progress) => {
      best = progress.best ?? best;
      if (progress.done >= 1000) search();
    });
    await searching;
    expect(await timed(running, () => thread.stop())).toBeLessThan(1000);
    const ending = await running;
    if (ending.kind !== "planned") throw new Error(ending.kind);
    expect(ending.plan.stoppedEarly).toBe(true);
    expect(compareGoals(ending.plan.goals, best!.goals)).toBeLessThanOrEqual(0);
    expect(auditPlan(small, ending.plan)).toEqual([]);
  });

  test("of a round of looking throws away what it has found", async () => {
    const running = thread.run({ ...long, kind: "look" }, silent);
    await new Promise((resolve) => setTimeout(resolve, 1500));
    expect(await timed(running, () => thread.leaveOff())).toBeLessThan(1000);
    expect((await running).kind).toBe("broken");
  });
});

describe("a faulty worker", () => {
  beforeEach(() => {
    const program = new URL("../_support/faulty-worker.ts", import.meta.url);
    thread = openThread({ program, handOverMs: 50, leaveOffMs: 50 });
  });

  test("that crashes ends its job with the reason and is replaced for the next", async () => {
    const ending = await thread.run({ ...order, seed: 1 }, silent);
    expect(ending).toMatchObject({ kind: "broken", message: expect.stringContaining("torn apart") });
    expect((await thread.run({ ...order, seed: 3 }, silent)).kind).toBe("cannot");
  });

  test("that does not stop when asked leaves the best plan that it had told of", async () => {
    const best = await emptyPlan(season);
    let hear = () => {};
    const told = new Promise<void>((resolve) => hear = resolve);
    const running = thread.run({ ...order, seed: 4, from: best }, () => hear());
    await told;
    thread.stop();
    expect(await running).toEqual({ kind: "planned", plan: { ...best, stoppedEarly: true } });
    expect((await thread.run({ ...order, seed: 3 }, silent)).kind).toBe("cannot");
  });

  test("that does not stop when asked is replaced after a grace", async () => {
    const running = thread.run({ ...order, seed: 2 }, silent);
    thread.stop();
    expect(await running).toEqual({ kind: "broken", message: "The planner did not stop when asked." });
    expect((await thread.run({ ...order, seed: 3 }, silent)).kind).toBe("cannot");
  });
});
