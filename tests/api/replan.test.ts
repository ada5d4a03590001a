import { afterEach, beforeEach, expect, test } from "vitest";
import { auditPlan } from "../../core/audit/audit.ts";
import { makePlan } from "../../core/plan/make.ts";
import type { Order } from "../../routes/_solver/messages.ts";
import { openThread, type Thread } from "../../routes/_solver/thread.ts";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { demoFile, demoSeason } from "../_support/demo.ts";

/** Share of the time of a plan without any search that an edit may take: a third of a second where nothing else runs. */
const MOST_SHARE = 0.5;

let app: TestApp;
let thread: Thread;
beforeEach(() => {
  app = openTestApp();
  thread = openThread();
});
afterEach(() => {
  thread.close();
  app.parts.close();
});

test("an edit of the demo farm gives a new audited plan in a moment", async () => {
  const demo = demoSeason(), { id } = demo;
  const first = await makePlan(demo, { seed: 1, iterations: 0, highs: null });
  if (first.kind !== "planned") throw new Error("the demo farm has no plan");
  await app.send("POST", "/api/seasons", demoFile());
  await app.get(`/seasons/${id}`);
  await app.thread.end({ kind: "planned", plan: first.plan });

  const timed = async (order: Order) => {
    const begun = performance.now();
    const ending = await thread.run(order, () => {});
    return { ending, ms: performance.now() - begun };
  };
  const anew = await timed({ ...app.thread.orders[0]!, iterations: 0 });

  const bed = demo.vessels.find((one) => one.stages.includes("bed"))!;
  const spent: number[] = [];
  let season = demo;
  for (const [n, day] of ["2027-03-01", "2027-04-05", "2027-05-03"].entries()) {
    const closures = [...season.vessels.find((one) => one.id === bed.id)!.closures];
    const next = [...closures, { from: `${day}T00:00`, to: `${day.slice(0, 8)}07T00:00`, reason: "down" }];
    const at = `/vessels/=${bed.id}/closures`;
    const changes = [{ at, from: closures, to: next }];
    const answer = await app.send("POST", `/api/seasons/${id}/edits`, {
      id: `down-${n}-x`,
      author: "O",
      changes,
    });
    expect(answer.status).toBe(201);
    season = {
      ...season,
      vessels: season.vessels.map((one) => one.id === bed.id ? { ...one, closures: next } : one),
    };
    // The order that the server gave is carried out by the real worker.
    const { ending, ms } = await timed(app.thread.orders.at(-1)!);
    spent.push(ms);
    await app.thread.end(ending);
    const plan = await (await app.get(`/api/seasons/${id}/plan`)).json();
    expect(auditPlan(season, plan)).toEqual([]);
    expect(plan.revision).toBe(n + 2);
  }
  expect(Math.min(...spent)).toBeLessThan(MOST_SHARE * anew.ms);
}, 240_000);
