import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { addDays } from "../../core/calendar.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import { openPage, startBrowser, violations } from "../_support/browser.ts";
import { storePlannedDemo } from "../_support/planned-demo.ts";
import { startServer, type TestServer } from "../_support/server.ts";

const SEASON = "/seasons/tern-and-furrow";
/** On a machine whose two cores also run other tests. */
const PLANNED_WITHIN_MS = 150_000;

let folder: string;
let server: TestServer;
let browser: Browser;
let page: Page & { faults: string[] };

beforeAll(async () => {
  folder = Deno.makeTempDirSync();
  await storePlannedDemo(folder);
  [server, browser] = await Promise.all([startServer(folder), startBrowser()]);
  page = await openPage(browser, { width: 1366, height: 768 });
  await page.goto(server.origin);
  await edit();
  await planned(2);
}, PLANNED_WITHIN_MS + 30_000);
afterAll(async () => {
  await browser.close();
  await server.stop();
  Deno.removeSync(folder, { recursive: true });
});

const api = async <T>(path: string, init?: RequestInit) =>
  await (await fetch(`${server.origin}/api${SEASON}${path}`, init)).json() as T;

/** Waits for a plan of the revision; the first one found is good enough here. */
async function planned(revision: number): Promise<void> {
  const status = page.getByRole("status").filter({ hasText: "the best plan so far" });
  const stop = page.getByRole("button", { name: /^Stop/ });
  await vi.waitFor(async () => {
    if (await status.isVisible() && await stop.isVisible()) {
      await stop.click({ timeout: 2000 }).catch(() => {});
    }
    const version = await page.locator("#year").getAttribute("data-version");
    expect(version).toMatch(new RegExp(`^${revision}\\..*\\.planned\\.`));
  }, { timeout: PLANNED_WITHIN_MS, interval: 200 });
}

/** Puts the last booked run off by a day, and takes the bed out of use for a week in which a run would lie in it. */
async function edit(): Promise<void> {
  const { bookings } = await api<Season>("");
  const booked = bookings.runs.at(-1)!;
  const { runs } = await api<Plan>("/plan");
  const run = runs.toSorted((a, b) => a.castAt < b.castAt ? -1 : 1).find((one) =>
    one.standing === "not booked"
  )!;
  const from = run.castAt.slice(0, 10);
  const service = { from: `${from}T00:00`, to: `${addDays(from, 7)}T00:00`, reason: "turner service" };
  await api("/edits", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({
      id: "later-and-service-1",
      author: "The maltster",
      changes: [
        ...(["steepInAt", "castAt", "kilnAt", "stripAt"] as const).map((time) => ({
          at: `/bookings/runs/=${booked.id}/${time}`,
          from: booked[time],
          to: `${addDays(booked[time].slice(0, 10), 1)}${booked[time].slice(10)}`,
        })),
        { at: `/vessels/=${run.vesselIds.bed}/closures`, from: [], to: [service] },
      ],
    }),
  });
}

const oldRuns = () => page.locator("#year .malthouse .old .was");
const switchOf = (kind: string) =>
  page.getByRole("group", { name: "Show where things were" }).getByLabel(new RegExp(kind));

test("what an edit moved is told, and the keyboard shows and hides where it lay", async () => {
  expect(await page.locator(".news").textContent()).toMatch(
    /The maltster changed .*\d+ runs? (moved|more|less)/,
  );
  const runs = switchOf("run");
  expect(await oldRuns().count()).toBeGreaterThan(0);
  if (!await runs.isChecked()) await runs.check();
  expect(await oldRuns().first().isVisible()).toBe(true);
  await runs.focus();
  await page.keyboard.press("Space");
  expect(await oldRuns().first().isVisible()).toBe(false);
  await page.keyboard.press("Space");
  expect(await oldRuns().first().isVisible()).toBe(true);
  expect(page.faults).toEqual([]);
});

test("a moved run says where it was, in its name, in its details and in the list", async () => {
  const run = page.locator('#year .mark.run[aria-label*="; was to be steeped"]').first();
  const words = /was to be steeped [^;]*/.exec((await run.getAttribute("aria-label"))!)![0];
  await run.focus();
  await page.keyboard.press("Enter");
  expect(await page.locator("#year [data-detail]").textContent()).toContain(words);
  await page.keyboard.press("Escape");
  const list = page.locator(".old-days details");
  await list.locator("summary").focus();
  await page.keyboard.press("Enter");
  expect((await list.textContent())!.replaceAll("\u00a0", " ")).toContain(words);
});

test("pointing at an old place lights the run that lay there", async () => {
  const of = await page.locator("#year .malthouse .old[data-of]").first().getAttribute("data-of");
  await page.locator(`#year .malthouse .old[data-of="${of}"] .was`).dispatchEvent("pointerover", {
    pointerType: "mouse",
  });
  expect(await page.locator(`#year .mark[data-node="${of}"]`).getAttribute("class")).toContain("lit");
  await page.locator("#year svg.section[role=application]").dispatchEvent("pointerleave");
});

test("the line of an old place is none of the four states'", async () => {
  const [old, ...states] = await page.evaluate(() =>
    [
      ".old .was",
      ".run.done .tread",
      ".run.booked .tread",
      ".run.not-booked .tread",
      ".stick.not-booked .rim",
    ].map(
      (one) => getComputedStyle(document.querySelector(`#year ${one}`)!).strokeDasharray,
    )
  );
  expect(old!.split(",")).toHaveLength(6);
  for (const state of states) expect(state).not.toBe(old);
});

test("what was hidden stays hidden when the year is drawn anew, and folds stay as they were", async () => {
  await switchOf("run").uncheck();
  await page.locator(".key-part > summary").click();
  const [answer] = await Promise.all([
    page.waitForResponse(/\/year$/),
    page.evaluate(() => {
      // The next news asks for the year again when it is not the one that is shown.
      document.getElementById("year")!.dataset.version = "0";
    }),
  ]);
  await answer.finished();
  await expect.poll(() => page.locator("#year").getAttribute("data-version"), { timeout: 10_000 })
    .not.toBe("0");
  expect(await switchOf("run").isChecked()).toBe(false);
  expect(await page.locator(".key-part").getAttribute("open")).toBe(null);
  expect(await page.locator(".old-days details").getAttribute("open")).toBe("");
});

test("at a desk, on a phone and twice as large axe finds no fault and nothing scrolls sideways", async () => {
  const context = await browser.newContext({ viewport: { width: 390, height: 800 } });
  const small = await context.newPage();
  await small.goto(`${server.origin}${SEASON}`);
  for (const box of await small.locator(".old-days input").all()) await box.check();
  await small.locator(".old-days summary").click();
  for (const [width, colorScheme] of [[390, "light"], [683, "dark"], [1366, "light"]] as const) {
    await small.setViewportSize({ width, height: 800 });
    await small.emulateMedia({ colorScheme });
    expect([width, await violations(small)]).toEqual([width, []]);
    expect(await small.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    if (width < 700) {
      const heights = await small.locator(".old-days :is(label, summary)").evaluateAll((all) =>
        all.map((one) => one.getBoundingClientRect().height)
      );
      expect(Math.min(...heights)).toBeGreaterThanOrEqual(44);
    }
  }
  await context.close();
});

test("without scripts the same switches work", async () => {
  const context = await browser.newContext({ javaScriptEnabled: false });
  const plain = await context.newPage();
  await plain.goto(`${server.origin}${SEASON}`);
  const runs = plain.locator("#old-runs"), old = plain.locator(".malthouse .old .was").first();
  await runs.check();
  expect(await old.isVisible()).toBe(true);
  await runs.uncheck();
  expect(await old.isVisible()).toBe(false);
  await context.close();
});
