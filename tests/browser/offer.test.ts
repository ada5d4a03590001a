import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { hashOf, seasonEntry } from "../../routes/_season-file.ts";
import { putOffer } from "../../routes/_store/offers.ts";
import { openStore } from "../../routes/_store/open.ts";
import { endPlan, startPlan } from "../../routes/_store/plans.ts";
import { insertSeason } from "../../routes/_store/seasons.ts";
import { offerWords } from "../../core/year/offer-words.ts";
import { twoPlans } from "../_support/better-plan.ts";
import { openPage, startBrowser, violations } from "../_support/browser.ts";
import { startServer, type TestServer } from "../_support/server.ts";

const { season, present, better } = await twoPlans("small");
const hash = hashOf(season);
const at = "2026-11-30T08:00:00.000Z";

let folder: string;
let server: TestServer;
let browser: Browser;
beforeAll(async () => void (browser = await startBrowser()));
afterAll(() => browser.close());
beforeEach(async () => {
  folder = Deno.makeTempDirSync();
  const store = openStore(`${folder}/rickyard.sqlite`);
  insertSeason(store, seasonEntry(season, new Date(at)), { author: "Owner", reason: "A test." });
  const row = startPlan(store, { id: season.id, revision: 1, hash }, at);
  // Nobody looks for a plan beside one that was stopped, so nothing else is offered during the test.
  endPlan(store, row, JSON.stringify({ ...present, stoppedEarly: true }), "", at);
  const offer = { season_id: season.id, season_hash: hash, plan_id: row, as_of: better.asOf };
  putOffer(store, { ...offer, document: JSON.stringify(better) }, at);
  store.close();
  server = await startServer(folder, "full");
});
afterEach(async () => {
  await server.stop();
  Deno.removeSync(folder, { recursive: true });
});

const { gain, lines: changes } = offerWords(season, present, better, season.asOf);
const shown = (page: Page) => page.getByRole("region", { name: "A better plan" });
const plan = async () => await (await fetch(`${server.origin}/api/seasons/${season.id}/plan`)).json();

describe("a better plan on the year's page", () => {
  test("is read, opened and taken by keyboard; then the planner looks on, until it is told to stop", async () => {
    const page = await openPage(browser, { width: 1366, height: 768 });
    await page.goto(server.origin);
    await shown(page).getByText(gain).waitFor();
    const lines = shown(page).getByRole("listitem");
    expect(await lines.first().isVisible()).toBe(false);
    await shown(page).getByText("What it would change").focus();
    await page.keyboard.press("Enter");
    expect(changes.length).toBeGreaterThan(0);
    expect(await lines.count()).toBe(changes.length);
    expect(await lines.first().isVisible()).toBe(true);
    expect(await violations(page)).toEqual([]);

    await shown(page).getByRole("button", { name: "Take it" }).focus();
    await page.keyboard.press("Enter");
    await shown(page).waitFor({ state: "detached" });
    await page.getByRole("button", { name: "Plan again" }).and(page.locator(":focus")).waitFor();
    await page.getByRole("status").filter({ hasText: "Planned. A better plan, taken by somebody." }).first()
      .waitFor();
    expect(await plan()).toEqual(better);

    await page.getByText("Still looking for a better plan (round 1 of 6).").waitFor();
    expect(await violations(page)).toEqual([]);
    const stop = page.getByRole("button", { name: "Stop looking" });
    await stop.focus();
    await page.keyboard.press("Enter");
    await stop.waitFor({ state: "hidden" });
    await page.getByRole("button", { name: "Plan again" }).and(page.locator(":focus")).waitFor();
    expect(page.faults).toEqual([]);
    await page.context().close();
  });

  test("is left on a phone, where nothing scrolls sideways, and goes from other pages too", async () => {
    const phone = await openPage(browser, { width: 390, height: 844 });
    const desk = await openPage(browser, { width: 1366, height: 768 });
    await Promise.all([phone, desk].map((page) => page.goto(server.origin)));
    await shown(phone).getByText("What it would change").click();
    expect(await phone.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(await violations(phone)).toEqual([]);
    await shown(phone).getByRole("button", { name: "Leave it" }).click();
    for (const page of [phone, desk]) await shown(page).waitFor({ state: "detached" });
    expect(await plan()).toEqual({ ...present, stoppedEarly: true });
    for (const page of [phone, desk]) {
      expect(page.faults).toEqual([]);
      await page.context().close();
    }
  });

  test("is taken without scripts", async () => {
    const context = await browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(server.origin);
    expect(await shown(page).textContent()).toContain(gain);
    await shown(page).getByRole("button", { name: "Take it" }).click();
    expect(new URL(page.url()).pathname).toBe(`/seasons/${season.id}`);
    expect(await shown(page).count()).toBe(0);
    await page.getByRole("button", { name: "Stop looking" }).click();
    expect(await page.getByText(/Still looking/).isVisible()).toBe(false);
    expect(await plan()).toEqual(better);
    await context.close();
  });
});

test("the goals of the best plan so far stand beside the bar, and after a stop that plan stays", async () => {
  const page = await openPage(browser, { width: 1366, height: 768 });
  await page.goto(server.origin);
  const best = page.getByText(/^Best so far: \d+ of \d+ brews, €[\d,]+\.$/);
  expect(await best.isVisible()).toBe(false);
  await page.getByRole("button", { name: "Plan again" }).click();
  await best.waitFor({ timeout: 60_000 });
  await page.getByRole("button", { name: /^Stop/ }).first().click();
  await page.getByRole("status").filter({ hasText: "Stopped early" }).first().waitFor({ timeout: 10_000 });
  expect(await best.isVisible()).toBe(false);
  expect((await plan()).stoppedEarly).toBe(true);
  await page.context().close();
});
