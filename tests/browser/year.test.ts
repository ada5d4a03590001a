import type { Browser, Locator } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openPage, startBrowser, violations } from "../_support/browser.ts";
import { startServer, type TestServer } from "../_support/server.ts";

let folder: string;
let server: TestServer;
let browser: Browser;

beforeAll(async () => {
  folder = Deno.makeTempDirSync();
  [server, browser] = await Promise.all([startServer(folder), startBrowser()]);
});
afterAll(async () => {
  await browser.close();
  await server.stop();
  Deno.removeSync(folder, { recursive: true });
});

/** A plan of the demo, on a machine whose two cores also run other tests. */
const PLANNED_WITHIN_MS = 150_000;

describe("a newcomer opens the first page", () => {
  test("the demo year is drawn at once, grows while it is planned, and nothing goes wrong", async () => {
    const page = await openPage(browser);
    await page.goto(server.origin);
    expect(await page.getByRole("heading", { level: 1 }).count()).toBe(1);
    expect(await page.title()).toBe("The year · Rickyard");

    const status = page.getByRole("status").first();
    await status.filter({ hasText: /^Planned\./ }).waitFor({ timeout: PLANNED_WITHIN_MS });
    const year = page.locator("#year");
    await expect.poll(() => year.getAttribute("data-version")).toContain(".planned.");
    expect(await page.getByRole("button", { name: "Plan again" }).isVisible()).toBe(true);
    expect(await page.getByRole("button", { name: /^Stop/ }).isVisible()).toBe(false);
    expect(page.faults).toEqual([]);
    await page.context().close();
  }, PLANNED_WITHIN_MS + 30_000);

  test.each([["desk", 1280], ["phone", 360]])(
    "the planned page has no fault that axe finds at %s width",
    async (_, width) => {
      const page = await openPage(browser, { width, height: 800 });
      await page.goto(server.origin);
      expect(await violations(page)).toEqual([]);
      await page.context().close();
    },
  );

  test("the page does not scroll sideways on a phone", async () => {
    const page = await openPage(browser, { width: 360, height: 800 });
    await page.goto(server.origin);
    const [needs, has] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    expect(needs).toBeLessThanOrEqual(has!);
    await page.context().close();
  });
});

describe("while a plan is made anew", () => {
  test("the last plan stays on the page, and the keyboard stays where it was", async () => {
    const page = await openPage(browser);
    await page.goto(server.origin);
    const again = page.getByRole("button", { name: "Plan again" });
    const stop = page.getByRole("button", { name: /^Stop/ });
    await again.focus();
    await page.keyboard.press("Enter");
    await stop.and(page.locator(":focus")).waitFor();

    const year = page.locator("#year");
    expect(await year.getByRole("heading", { level: 1 }).count()).toBe(1);
    const place = year.locator("a, button, summary, [tabindex='0']").first();
    await place.focus();
    // The words of a mark may change with the plan; which mark has the keyboard may not.
    const name = await place.evaluate((element) => element.getAttribute("data-node") ?? element.outerHTML);
    await year.evaluate((element) => element.firstElementChild!.id = "drawn-before");
    await page.evaluate(
      (path) => fetch(path, { method: "POST", body: new FormData() }),
      await stopAddress(stop),
    );
    await page.locator("#drawn-before").waitFor({ state: "detached", timeout: 30_000 });
    await again.waitFor();
    await expect.poll(() =>
      page.evaluate(() =>
        document.activeElement?.getAttribute("data-node") ?? document.activeElement?.outerHTML
      )
    ).toBe(name);
    expect(page.faults).toEqual([]);
    await page.context().close();
  });

  test("without scripts the same two buttons work", async () => {
    const context = await browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(server.origin);
    await page.getByRole("button", { name: "Plan again" }).click();
    await page.getByRole("button", { name: /^Stop/ }).click();
    expect(new URL(page.url()).pathname).toBe("/seasons/tern-and-furrow");
    await context.close();
  });
});

/** The address to which a button's form is sent. */
function stopAddress(button: Locator): Promise<string> {
  return button.evaluate((element) => (element as HTMLButtonElement).form!.action);
}

test("a page that is missing says so, and passes axe too", async () => {
  const page = await openPage(browser);
  await page.goto(`${server.origin}/seasons/nowhere`);
  expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe(
    "There is no season of this name here.",
  );
  expect(await violations(page)).toEqual([]);
  await page.context().close();
});
