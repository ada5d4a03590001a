import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Explanation } from "../../core/explain/explain.ts";
import { makeSeason } from "../../core/generate/make-season.ts";
import { makePlan } from "../../core/plan/make.ts";
import type { Plan } from "../../core/plan/plan.ts";
import { drawParts, partsOf } from "../../core/year/draw.ts";
import { shortfallsIn } from "../../core/year/shortfalls.ts";
import type { ExplainOrder } from "../../routes/_solver/explain-messages.ts";
import { type Explain, explainInWorker } from "../../routes/_solver/explainer.ts";
import { NOW, openTestApp, type TestApp } from "../_support/app.ts";

const season = { ...makeSeason("micro", 7, "store"), id: "short-of-room" };
season.fixedAsOf = season.asOf;
const outcome = await makePlan(season, { seed: 1, iterations: 0, highs: null });
if (outcome.kind !== "planned") throw new Error("the season has no plan");
const plan: Plan = outcome.plan;
const parts = partsOf(season, plan);
const [shortfall] = shortfallsIn(parts, drawParts(parts));
const runId = plan.runs[0]!.id;

const explanation: Explanation = {
  format: "rickyard-explanation",
  version: 2,
  doing: "Another bed",
  done: 1,
  of: 9,
  breaksFirst: "What breaks first: the pale run may not slip.",
  slack: [{ runId, days: 2, isPressed: true, words: "may slip 2 days: the bed is wanted" }],
  reserves: ["pale: least on 3 Mar, 120 kg below its reserve of 400 kg"],
  limit: "The room for malt is the tightest limit.",
  shortfalls: [{ what: shortfall!.what, words: "More room would end it.", chain: ["malt store full"] }],
  remedies: [{
    id: "malt-places-1",
    words: "1 more place in the malt store",
    effect: "2 more brews",
    beers: "2 The pale beer more",
    money: "80 EUR better",
    cost: "cost not given",
    rank: "stands before the next at any cost",
    next: "after it nothing is binding",
    isNoise: false,
    cautions: ["A bulk bag can fall, swing or burst."],
  }],
  weeks: [],
};

/** Explanations that grow and end when the test says so. */
const jobs: {
  order: ExplainOrder;
  told: (explanation: Explanation) => void;
  end: (broke: string | null) => void;
  stops: number;
}[] = [];
const explain: Explain = (order, told) => {
  let end: (broke: string | null) => void = () => {};
  const ended = new Promise<string | null>((resolve) => end = resolve);
  const job = { order, told, end, stops: 0 };
  jobs.push(job);
  return { ended, stop: () => void job.stops++ };
};
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
