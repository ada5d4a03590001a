import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { hashOf, seasonEntry } from "../../routes/_season-file.ts";
import { openStore } from "../../routes/_store/open.ts";
import { endPlan, startPlan } from "../../routes/_store/plans.ts";
import { insertSeason } from "../../routes/_store/seasons.ts";
import { openPage, startBrowser, violations } from "../_support/browser.ts";
import { plan, runId, season } from "../_support/explained.ts";
import { startServer, type TestServer } from "../_support/server.ts";

const SEASON = `/seasons/${season.id}`;
/** On a machine whose two cores also run other tests. */
const WORKED_OUT_WITHIN_MS = 240_000;
const at = "2026-11-30T08:00:00.000Z";

let folder: string;
let server: TestServer;
let browser: Browser;
beforeAll(async () => {
  folder = Deno.makeTempDirSync();
  const store = openStore(`${folder}/rickyard.sqlite`);
  insertSeason(store, seasonEntry(season, new Date(at)), { author: "Owner", reason: "A test." });
  const row = startPlan(store, { id: season.id, revision: 1, hash: hashOf(season) }, at);
  endPlan(store, row, JSON.stringify(plan), "", at);
  store.close();
  [server, browser] = await Promise.all([startServer(folder), startBrowser()]);
});
afterAll(async () => {
  await browser.close();
  await server.stop();
  Deno.removeSync(folder, { recursive: true });
});

const answerOf = (page: Page, id: string) => page.locator(`section:has(#${id}) .answer`);
const isWide = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);

describe("the page of questions", () => {
  test("grows by itself while answers are worked out, and keeps what is typed meanwhile", async () => {
    const page = await openPage(browser, { width: 1366, height: 768 });
    await page.goto(`${server.origin}${SEASON}/questions`);
    const share = page.getByLabel("Share asked for, %");
    await share.fill("6");
    expect(await answerOf(page, "limits").textContent()).toContain("Being worked out");
    await page.waitForTimeout(3000);
    expect(await share.inputValue()).toBe("6");
    await share.fill("");
    await expect.poll(() => answerOf(page, "limits").textContent(), { timeout: WORKED_OUT_WITHIN_MS })
      .not.toContain("Being worked out");
    expect(await violations(page)).toEqual([]);
    expect(page.faults).toEqual([]);
    await page.context().close();
  }, WORKED_OUT_WITHIN_MS + 30_000);

  test("is read on a phone without scrolling sideways, by its own forms without scripts", async () => {
    const phone = await browser.newContext({
      viewport: { width: 390, height: 844 },
      javaScriptEnabled: false,
    });
    const page = await phone.newPage();
    await page.goto(`${server.origin}${SEASON}/questions`);
    await page.getByLabel("Share asked for, %").fill("60");
    await page.getByRole("button", { name: "Hold it against the year" }).click();
    expect(new URL(page.url()).searchParams.get("share")).toBe("60");
    expect(await page.getByLabel("Share asked for, %").inputValue()).toBe("60");
    await phone.close();
    for (const path of ["questions?share=60", "remedies"]) {
      const narrow = await openPage(browser, { width: 390, height: 844 });
      await narrow.goto(`${server.origin}${SEASON}/${path}`);
      expect(await isWide(narrow)).toBe(false);
      expect(await violations(narrow)).toEqual([]);
      await narrow.context().close();
    }
  });
});

test("a run's details on the year's page say how far it may slip", async () => {
  const page = await openPage(browser, { width: 1366, height: 768 });
  await page.goto(`${server.origin}${SEASON}`);
  const run = page.locator(`[data-node="run:${runId}"]`);
  await expect.poll(() => run.getAttribute("aria-label"), { timeout: 30_000 }).toMatch(/; may (not )?slip/);
  await run.focus();
  await page.keyboard.press("Enter");
  await expect.poll(() => page.locator("#year [data-detail]").textContent()).toMatch(/may (not )?slip/);
  await page.context().close();
});
