import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Explanation } from "../../core/explain/explanation.ts";
import { explainInWorker } from "../../routes/_solver/explainer.ts";
import { NOW, openTestApp, type TestApp } from "../_support/app.ts";
import { explainInto, explanation, type Job, plan, runId, season } from "../_support/explained.ts";

const jobs: Job[] = [];
const explain = explainInto(jobs);
const settled = () => new Promise((done) => setTimeout(done, 0));
const id = season.id;

let app: TestApp;
beforeEach(async () => {
  jobs.length = 0;
  app = openTestApp(":memory:", () => NOW, explain);
  await app.send("POST", "/api/seasons", season);
  await app.get(`/seasons/${id}`);
  await app.thread.end({ kind: "planned", plan });
});
afterEach(() => app.parts.close());
const year = async () => await (await app.get(`/seasons/${id}`)).text();
const remedies = async () => await (await app.get(`/seasons/${id}/remedies`)).text();

describe("a look at the year", () => {
  test("begins the slack, once, and shows what breaks first when it is known", async () => {
    expect(await year()).toContain(`href="/seasons/${id}/remedies"`);
    await year();
    expect(jobs.map(({ order }) => [order.depth, order.plan.runs.length])).toEqual([
      ["slack", plan.runs.length],
    ]);
    jobs[0]!.told({ ...explanation, limit: "", shortfalls: [], remedies: [], doing: "" });
    jobs[0]!.end(null);
    await settled();
    expect(await year()).toContain(explanation.breaksFirst);
    expect(jobs).toHaveLength(1);
  });
});

describe("a look at what would help", () => {
  test("begins the whole, says how far it is, and shows each step as it is known", async () => {
    expect(await remedies()).toContain("is being worked out");
    expect(jobs.map(({ order }) => order.depth)).toEqual(["whole"]);
    jobs[0]!.told(explanation);
    const html = await remedies();
    for (
      const words of [
        "Being worked out (1 of at most 9): Another bed",
        explanation.limit,
        "1 more place in the malt store",
        "2 more brews (2 The pale beer more)",
        "cost not given",
        "A bulk bag can fall",
        "Malt store full",
        "Pale: least on 3 Mar, 120 kg below",
        "May slip 2 days: the bed is wanted",
      ]
    ) expect(html).toContain(words);
    jobs[0]!.told({ ...explanation, doing: "" });
    jobs[0]!.end(null);
    await settled();
    expect(await remedies()).toContain("All of it is worked out.");
    expect(await year()).toContain("Malt store full. More room would end it.");
    expect(jobs).toHaveLength(1);
  });

  test("shows the tightest runs and folds the others away by day, and what one more run is worth", async () => {
    await remedies();
    const free = plan.runs.map((run) => run.id);
    const slack = Array.from({ length: 12 }, (_, at) => ({
      runId: free[at % free.length]!,
      days: at,
      isPressed: true,
      words: `may slip ${at} days: reason ${at}`,
    }));
    const weeks = [0, 7, 14].map((after) => ({
      day: 20_840 + after,
      brews: after === 14 ? 1 : 0,
      promises: 0,
      homeMaltG: 0,
      words: after === 14 ? "1 more brew" : "no measurable gain",
      isNoise: after !== 14,
    }));
    jobs[0]!.told({ ...explanation, slack, weeks });
    const html = await remedies();
    const [shown, folded] = html.split("The other 6 runs, by day");
    for (const at of [0, 5]) expect(shown).toContain(`reason ${at}<`);
    expect(shown).not.toContain("reason 6<");
    for (const at of [6, 11]) expect(folded).toContain(`reason ${at}<`);
    expect(html.match(/<details class="more-rows">/g)).toHaveLength(2);
    expect(html).toContain(
      "One run more would bring most in the week of 5 Feb: 1 more brew; in 2 of 3 weeks",
    );
    expect(html).toContain("22 Jan to 29 Jan");
    expect(await year()).toContain("one more run");
  });

  test("goes on from the slack that the year began", async () => {
    await year();
    await remedies();
    expect([jobs.length, jobs[0]!.stops]).toEqual([1, 1]);
    jobs[0]!.end(null);
    await settled();
    expect(jobs.map(({ order }) => order.depth)).toEqual(["slack", "whole"]);
  });

  test("says so when it broke off, and does not try again by itself", async () => {
    await remedies();
    jobs[0]!.end("out of memory");
    await settled();
    expect(await remedies()).toContain("It broke off: out of memory");
    expect(jobs).toHaveLength(1);
  });
});

test("an edit makes another plan: what was known of the old one is not shown with it", async () => {
  await remedies();
  jobs[0]!.told({ ...explanation, doing: "" });
  const places = season.maltStore.places;
  const changes = [{ at: "/maltStore/places", from: places, to: places + 1 }];
  await app.send("POST", `/api/seasons/${id}/edits`, { id: "remedies-edit-1", author: "Owner", changes });
  expect(await year()).not.toContain(explanation.breaksFirst);
});

test("the worker explains a plan by itself, and ends", async () => {
  const known: Explanation[] = [];
  const job = explainInWorker({ season, plan, depth: "slack" }, (one) => known.push(one));
  expect(await job.ended).toBe(null);
  expect(known).toHaveLength(1);
  expect(known[0]!.slack.map((one) => one.runId)).toContain(runId);
});
