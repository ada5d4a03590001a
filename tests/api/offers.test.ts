import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { movedBetween } from "../../core/plan/moved.ts";
import type { Plan } from "../../core/plan/plan.ts";
import { movedLines } from "../../core/year/moved-lines.ts";
import { offeredBefore, openOffer } from "../../routes/_store/offers.ts";
import { latestPlan } from "../../routes/_store/plans.ts";
import { openTestApp, type TestApp } from "../_support/app.ts";
import { twoPlans } from "../_support/better-plan.ts";

const { season, present, better } = await twoPlans();
const id = season.id;

let app: TestApp;
beforeEach(async () => {
  app = openTestApp();
  await app.send("POST", "/api/seasons", season);
  await app.get(`/seasons/${id}`);
  await app.thread.end({ kind: "planned", plan: present });
});
afterEach(() => app.parts.close());

let rounds = 0;
/** Ends the round that is worked on with this plan. */
async function find(plan: Plan): Promise<void> {
  await expect.poll(() => app.thread.looks.length).toBeGreaterThan(rounds);
  rounds = app.thread.looks.length;
  await app.thread.end({ kind: "planned", plan });
}
beforeEach(() => void (rounds = 0));

const page = async () => await (await app.get(`/seasons/${id}`)).text();
const storedPlan = async () => await (await app.get(`/api/seasons/${id}/plan`)).json();
const number = () => String(openOffer(app.parts.store, id)?.id);
const press = (what: "take" | "leave", offer = number(), headers = {}) =>
  app.press(`/seasons/${id}/offer/${what}`, { offer }, headers);
const change = (name: string) => app.send("PUT", `/api/seasons/${id}`, { ...season, name });

describe("a better plan that is found", () => {
  test("is offered with what it brings and what it would change, and replaces nothing", async () => {
    await find(better);
    const html = await page();
    expect(html).toContain("A better plan was found: €173 less.");
    expect(html).toMatch(/It would [^<]*\b1 run/);
    expect(html).toContain("What it would change");
    const lines = movedLines(season, movedBetween(present, better), present, better);
    expect(lines.length).toBeGreaterThan(0);
    for (const line of lines) expect(html).toContain(line);
    expect(await storedPlan()).toEqual(present);
  });

  test("is the start of the next round", async () => {
    await find(better);
    await expect.poll(() => app.thread.looks[1]?.from).toEqual(better);
  });

  test("is not offered when it is hardly better, or no better", async () => {
    await find(present);
    expect(await page()).not.toContain("A better plan");
    await find({ ...better, seasonHash: "0".repeat(64) });
    expect(openOffer(app.parts.store, id)).toBeNull();
  });

  test("is not offered when the auditor refuses it", async () => {
    await find({ ...better, goals: { ...better.goals, moneyCents: better.goals.moneyCents - 1 } });
    expect(openOffer(app.parts.store, id)).toBeNull();
    expect(offeredBefore(app.parts.store, id, "")).toEqual([]);
  });

  test("stands alone as the piece that is swapped, with the number that the news give", async () => {
    await find(better);
    const piece = await app.get(`/seasons/${id}/offer`);
    expect(piece.headers.get("cache-control")).toBe("no-store");
    const html = await piece.text();
    expect(html).not.toContain("<html");
    expect(html).toContain(`data-offer="${number()}"`);
    const news = (await app.get(`/seasons/${id}/events`)).body!.pipeThrough(new TextDecoderStream())
      .getReader();
    expect((await news.read()).value).toContain(`"offer":${number()}`);
    await news.cancel();
  });
});

describe("taking an offer", () => {
  test("makes it the newest plan, with who took it, and the looking goes on from it", async () => {
    await find(better);
    const pressed = await press("take", number(), { cookie: "rickyard-person=Hanna" });
    expect([pressed.status, pressed.headers.get("location")]).toEqual([303, `/seasons/${id}`]);
    expect(await storedPlan()).toEqual(better);
    const html = await page();
    expect(html).toContain("Planned. A better plan, taken by Hanna.");
    expect(html).not.toContain("A better plan was found");
    const row = app.parts.store.prepare("SELECT state, decided_by FROM offer").get();
    expect({ ...row }).toEqual({ state: "taken", decided_by: "Hanna" });
    // The round that was under way had begun beside the plan before.
    await find(better);
    await expect.poll(() => app.thread.looks.at(-1)).toMatchObject({ seed: 4, from: better });
    expect(openOffer(app.parts.store, id)).toBeNull();
  });

  test("is answered once: a second press finds it gone, and says so", async () => {
    await find(better);
    const offer = number();
    await press("take", offer);
    const second = await press("take", offer);
    expect(second.status).toBe(409);
    expect(await second.text()).toContain("This plan is no longer offered.");
    expect(app.parts.store.prepare("SELECT count(*) AS n FROM plan").get()?.n).toBe(2);
  });

  test("is of the offer that was shown, not of one that has taken its place", async () => {
    await find(better);
    expect((await press("take", String(Number(number()) - 1))).status).toBe(409);
    expect(await storedPlan()).toEqual(present);
  });

  test("goes through the audit again", async () => {
    await find(better);
    app.parts.store.exec("UPDATE offer SET document = json_set(document, '$.goals.moneyCents', 1)");
    const answer = await press("take");
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain("check refused the plan");
    expect(await storedPlan()).toEqual(present);
    expect(openOffer(app.parts.store, id)?.state).toBe("open");
  });

  test("is nothing that a form of another site can do", async () => {
    await find(better);
    const headers = { "content-type": "application/x-www-form-urlencoded", origin: "http://farm.example" };
    const answer = await app.send("POST", `/seasons/${id}/offer/take`, `offer=${number()}`, headers);
    expect(answer.status).toBe(403);
    expect(await storedPlan()).toEqual(present);
  });
});

describe("leaving an offer", () => {
  test("keeps the plan, and the same plan is not offered again", async () => {
    await find(better);
    expect((await press("leave")).status).toBe(303);
    expect(await page()).not.toContain("A better plan was found");
    await find({ ...better, seed: 99 });
    expect(openOffer(app.parts.store, id)).toBeNull();
    expect(await storedPlan()).toEqual(present);
  });

  test("is remembered when the season is planned again", async () => {
    await find(better);
    await press("leave");
    await app.press(`/seasons/${id}/plan`);
    await app.thread.end({ kind: "planned", plan: present });
    await find(better);
    expect(openOffer(app.parts.store, id)).toBeNull();
  });
});

describe("an offer ends", () => {
  test("with the season that it was made for, and does not come back with a plan of the change", async () => {
    await find(better);
    const offer = number();
    await change("New Name");
    expect(await page()).not.toContain("A better plan was found");
    expect((await press("take", offer)).status).toBe(409);
    await app.thread.end({ kind: "planned", plan: present });
    expect(await page()).not.toContain("A better plan was found");
    expect((await press("take", offer)).status).toBe(409);
  });

  test("with the plan that it was compared with, and is none while another is made", async () => {
    await find(better);
    await app.press(`/seasons/${id}/plan`);
    expect(await page()).not.toContain("A better plan was found");
    expect((await press("take")).status).toBe(409);
    await app.thread.end({ kind: "planned", plan: present });
    expect(latestPlan(app.parts.store, id)?.state).toBe("solved");
    expect(await page()).not.toContain("A better plan was found");
  });

  test("with the day", async () => {
    await find(better);
    app.parts.store.exec("UPDATE offer SET as_of = '2026-01-01T07:00'");
    expect(await page()).not.toContain("A better plan was found");
  });

  test("while the season is put away", async () => {
    await find(better);
    await app.press(`/seasons/${id}/shelf`, { to: "archived" });
    expect(await page()).not.toContain("A better plan was found");
    expect((await press("take")).status).toBe(409);
  });
});
