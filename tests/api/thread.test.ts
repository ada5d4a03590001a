import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { auditPlan } from "../../core/audit/audit.ts";
import { seasonSchema } from "../../core/season/season.ts";
import { ORDER } from "../../routes/_solver/order.ts";
import { openThread, type Thread } from "../../routes/_solver/thread.ts";
import { bareSeason } from "../_support/bare-season.ts";

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

describe("a faulty worker", () => {
  beforeEach(() => {
    const program = new URL("../_support/faulty-worker.ts", import.meta.url);
    thread = openThread({ program, stopGraceMs: 100 });
  });

  test("that crashes ends its job with the reason and is replaced for the next", async () => {
    const ending = await thread.run({ ...order, seed: 1 }, silent);
    expect(ending).toMatchObject({ kind: "broken", message: expect.stringContaining("torn apart") });
    expect((await thread.run({ ...order, seed: 3 }, silent)).kind).toBe("cannot");
  });

  test("that does not stop when asked is replaced after a grace", async () => {
    const running = thread.run({ ...order, seed: 2 }, silent);
    thread.stop();
    expect(await running).toEqual({ kind: "broken", message: "The planner did not stop when asked." });
    expect((await thread.run({ ...order, seed: 3 }, silent)).kind).toBe("cannot");
  });
});
