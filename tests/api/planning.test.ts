import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Plan } from "../../core/plan/plan.ts";
import { type Season, seasonSchema } from "../../core/season/season.ts";
import type { SeasonNews } from "../../islands/news.ts";
import { latestPlan } from "../../routes/_store/plans.ts";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { bareSeason } from "../_support/bare-season.ts";
import { emptyPlan } from "../_support/empty-plan.ts";

const season: Season = seasonSchema.parse(bareSeason);
const plan: Plan = await emptyPlan(season);
const better: Plan = await emptyPlan(season, 50);
const id = season.id;

let app: TestApp;
beforeEach(async () => {
  app = openTestApp();
  await app.send("POST", "/api/seasons", bareSeason);
});
afterEach(() => app.parts.close());

const storedPlan = async () => await (await app.get(`/api/seasons/${id}/plan`)).json();
const change = (name: string) => app.send("PUT", `/api/seasons/${id}`, { ...bareSeason, name });

describe("when planning starts", () => {
  test("the first look at the year starts it, and the second does not start another", async () => {
    await app.get(`/seasons/${id}`);
    await app.get(`/seasons/${id}`);
    expect(app.thread.orders).toHaveLength(1);
    expect(app.thread.orders[0]?.season).toEqual(season);
    await app.thread.end({ kind: "planned", plan });
    await app.get(`/seasons/${id}`);
    expect(app.thread.orders).toHaveLength(1);
    expect(await storedPlan()).toEqual(plan);
  });

  test("a change of the season plans it anew at once", async () => {
    await app.get(`/seasons/${id}`);
    await app.thread.end({ kind: "planned", plan });
    await change("New Name");
    expect(app.thread.orders.map((order) => order.season.name)).toEqual(["Bare Farm", "New Name"]);
  });

  test("an edit is taken in near the last plan, and a long search is made when it is asked for", async () => {
    await app.get(`/seasons/${id}`);
    await app.thread.end({ kind: "planned", plan });
    const changes = [{ at: "/maltStore/places", from: 10, to: 11 }];
    await app.send("POST", `/api/seasons/${id}/edits`, { id: "replan-test-1", author: "Owner", changes });
    const next = await emptyPlan({ ...season, maltStore: { ...season.maltStore, places: 11 } });
    await app.press(`/seasons/${id}/plan`);
    await app.thread.end({ kind: "planned", plan: next });
    expect(await storedPlan()).toEqual(next);
    const orders = app.thread.orders.map(({ kind, from }) => [kind, from?.seasonHash]);
    expect(orders).toEqual([["plan", undefined], ["replan", plan.seasonHash], ["plan", next.seasonHash]]);
  });

  test("where no plan near at hand keeps the rules, a long search follows at once", async () => {
    await app.get(`/seasons/${id}`);
    await app.thread.end({ kind: "planned", plan });
    const changes = [{ at: "/maltStore/places", from: 10, to: 11 }];
    await app.send("POST", `/api/seasons/${id}/edits`, { id: "replan-test-2", author: "Owner", changes });
    await app.thread.end({ kind: "breached", breaches: [] });
    expect(app.thread.orders.map(({ kind }) => kind)).toEqual(["plan", "replan", "plan"]);
  });

  test("a plan that failed is not tried again by looking, only by asking", async () => {
    await app.get(`/seasons/${id}`);
    await app.thread.end({ kind: "broken", message: "out of memory" });
    await app.get(`/seasons/${id}`);
    expect(app.thread.orders).toHaveLength(1);
    const pressed = await app.press(`/seasons/${id}/plan`);
    expect([pressed.status, pressed.headers.get("location")]).toEqual([303, `/seasons/${id}`]);
    expect(app.thread.orders).toHaveLength(2);
  });

  test("a plan that a stopped server left unfinished is marked and taken up again", async () => {
    const folder = Deno.makeTempDirSync();
    const first = openTestApp(`${folder}/store.sqlite`);
    await first.send("POST", "/api/seasons", bareSeason);
    await first.get(`/seasons/${id}`);
    expect(latestPlan(first.parts.store, id)?.state).toBe("solving");
    first.parts.store.close();
    const second = openTestApp(`${folder}/store.sqlite`);
    expect(second.thread.orders.map((order) => order.season.id)).toEqual([id]);
    const states = second.parts.store.prepare("SELECT state FROM plan ORDER BY id").all().map((row) =>
      row.state
    );
    expect(states).toEqual(["failed", "solving"]);
    second.parts.close();
    Deno.removeSync(folder, { recursive: true });
  });

  test("a form of a foreign page cannot start it", async () => {
    const headers = { "content-type": "application/x-www-form-urlencoded", origin: "http://farm.example" };
    const answer = await app.send("POST", `/seasons/${id}/plan`, "", headers);
    expect(answer.status).toBe(403);
    expect(app.thread.orders).toHaveLength(0);
  });
});

describe("the queue", () => {
  test("a change while planning stops the old plan, throws it away, and plans the change", async () => {
    await app.get(`/seasons/${id}`);
    await change("New Name");
    expect(app.thread.stops).toBe(1);
    await app.thread.end({ kind: "planned", plan });
    expect((await app.get(`/api/seasons/${id}/plan`)).status).toBe(404);
    await expect.poll(() => app.thread.orders[1]?.season.name).toBe("New Name");
  });

  test("of many changes only the last is planned", async () => {
    await app.get(`/seasons/${id}`);
    for (const name of ["One", "Two", "Three"]) await change(name);
    await app.thread.end({ kind: "planned", plan });
    await expect.poll(() => app.thread.orders.map((order) => order.season.name)).toEqual([
      "Bare Farm",
      "Three",
    ]);
  });

  test("another season waits its turn", async () => {
    await app.send("POST", "/api/seasons", { ...bareSeason, id: "other" });
    await app.get(`/seasons/${id}`);
    await app.get("/seasons/other");
    expect(app.thread.orders).toHaveLength(1);
    expect(await (await app.get("/seasons/other")).text()).toContain("Planning: waiting.");
    await app.thread.end({ kind: "planned", plan });
    expect(app.thread.orders[1]?.season.id).toBe("other");
  });

  test("stopping keeps the best plan so far and says so", async () => {
    await app.get(`/seasons/${id}`);
    await app.press(`/seasons/${id}/plan/stop`);
    expect(app.thread.stops).toBe(1);
    await app.thread.end({ kind: "planned", plan });
    expect(await storedPlan()).toEqual(plan);
    expect(await (await app.get(`/seasons/${id}`)).text()).toContain("Stopped early");
  });
});

describe("how a plan can fail", () => {
  test("a season that cannot be planned says why", async () => {
    await app.get(`/seasons/${id}`);
    const finding = {
      level: "error",
      code: "no-vessels",
      thing: "t",
      field: "f",
      value: "",
      limit: "",
    } as const;
    const findings = [{ ...finding, message: "No vessel takes oats.", wayOut: "Add one." }];
    await app.thread.end({ kind: "cannot", findings });
    expect(await (await app.get(`/seasons/${id}`)).text()).toContain("No vessel takes oats.");
  });

  test("a plan that the auditor refuses at the door of the store is not stored", async () => {
    await app.get(`/seasons/${id}`);
    const unmade = { ...plan, goals: { ...plan.goals, moneyCents: 1 } };
    await app.thread.end({ kind: "planned", plan: unmade });
    expect((await app.get(`/api/seasons/${id}/plan`)).status).toBe(404);
    expect(latestPlan(app.parts.store, id)).toMatchObject({ state: "failed" });
  });

  test("the last good plan stays when a later one fails", async () => {
    await app.get(`/seasons/${id}`);
    await app.thread.end({ kind: "planned", plan });
    await app.press(`/seasons/${id}/plan`);
    await app.thread.end({ kind: "broken", message: "lost" });
    expect(await storedPlan()).toEqual(plan);
  });
});

describe("following a plan", () => {
  /** Reads the stream of news until `enough`. */
  async function follow(enough: (news: SeasonNews) => boolean): Promise<SeasonNews[]> {
    const answer = await app.get(`/seasons/${id}/events`);
    expect(answer.headers.get("content-type")).toBe("text/event-stream");
    const heard: SeasonNews[] = [];
    const lines = answer.body!.pipeThrough(new TextDecoderStream());
    for await (const chunk of lines) {
      for (const [, data] of chunk.matchAll(/^data: (.+)$/gm)) heard.push(JSON.parse(data!));
      if (heard.some(enough)) break;
    }
    return heard;
  }

  test("each better plan has a version of its own, and the end is told", async () => {
    await app.get(`/seasons/${id}`);
    const following = follow((news) => !news.planning);
    const pause = () => new Promise((resolve) => setTimeout(resolve, 300));
    await pause();
    app.thread.progress({ stage: "searching", done: 25, of: 100 });
    await pause();
    app.thread.progress({ stage: "searching", done: 50, of: 100, best: better });
    await pause();
    await app.thread.end({ kind: "planned", plan });
    const news = await following;
    expect(news.map(({ says, done, of }) => [says, done, of])).toEqual([
      ["Planning: waiting.", 0, 0],
      ["Planning: searching.", 25, 100],
      ["Planning: searching.", 50, 100],
      ["Planned.", 0, 0],
    ]);
    expect(new Set(news.map(({ version }) => version)).size).toBe(3);
    expect(news[0]?.version).toBe(news[1]?.version);
  });

  test("the piece that is swapped has no document around it", async () => {
    const piece = await app.get(`/seasons/${id}/year`);
    expect(piece.headers.get("cache-control")).toBe("no-store");
    const html = await piece.text();
    expect(html).not.toContain("<html");
    expect(await (await app.get(`/seasons/${id}`)).text()).toContain("<html");
  });
});

describe("what an edit moved", () => {
  test("stands on the page with the edit that moved it", async () => {
    await app.get(`/seasons/${id}`);
    await app.thread.end({ kind: "planned", plan });
    expect(await (await app.get(`/seasons/${id}`)).text()).not.toContain("Nothing moved.");
    const changes = [{ at: "/maltStore/places", from: 10, to: 11 }];
    await app.send("POST", `/api/seasons/${id}/edits`, { id: "moved-test-1", author: "Owner", changes });
    const next = { ...season, maltStore: { ...season.maltStore, places: 11 } };
    await app.thread.end({ kind: "planned", plan: await emptyPlan(next) });
    const html = await (await app.get(`/seasons/${id}`)).text();
    expect(html).toContain("Owner changed the malt store, places: 10 → 11.");
    expect(html).toContain("Nothing moved.");
  });
});
