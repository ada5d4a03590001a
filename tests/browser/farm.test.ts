import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openPage, startBrowser, violations } from "../_support/browser.ts";
import { storePlannedDemo } from "../_support/planned-demo.ts";
import { startServer, type TestServer } from "../_support/server.ts";

let folder: string;
let server: TestServer;
let browser: Browser;
let farm: string;

beforeAll(async () => {
  folder = Deno.makeTempDirSync();
  await storePlannedDemo(folder);
  [server, browser] = await Promise.all([startServer(folder), startBrowser()]);
  farm = `${server.origin}/seasons/tern-and-furrow/farm`;
});
afterAll(async () => {
  await browser.close();
  await server.stop();
  Deno.removeSync(folder, { recursive: true });
});

/** What a finger cannot hit: links, buttons and fields lower than 44 pixels. */
async function small(page: Page): Promise<string[]> {
  return await page.locator(
    "main :is(a, button:not(.unseen), select, textarea, summary, label:has(input), input)",
  )
    .evaluateAll((all) =>
      all.filter((one) => {
        const { height } = one.getBoundingClientRect();
        const inLabel = one.matches("[type=checkbox], [type=radio], [type=hidden]");
        return height > 0 && height < 44 && !inLabel;
      }).map((one) => `${one.tagName} ${one.textContent}`)
    );
}

describe("the farm on a phone and at a desk", () => {
  test.each(["", "/list?at=/lots", "/form?at=/lots/=lot-a", "/form?at=/maltTypes/=pale", "/form?at=/roster"])(
    "%s has no fault that axe finds, does not scroll sideways, and can be hit",
    async (path) => {
      const page = await openPage(browser, { width: 390, height: 800 });
      await page.goto(farm + path);
      for (const width of [390, 1366]) {
        await page.setViewportSize({ width, height: 800 });
        expect(await violations(page)).toEqual([]);
        const [needs, has] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
        expect(needs).toBeLessThanOrEqual(has!);
        expect(await small(page)).toEqual([]);
      }
      expect(page.faults).toEqual([]);
      await page.context().close();
    },
  );
});

// Those who save nothing come first: after the first change the planner takes one of two cores.
describe("somebody without scripts", () => {
  async function plainPage(): Promise<Page> {
    const context = await browser.newContext({
      javaScriptEnabled: false,
      viewport: { width: 390, height: 800 },
    });
    return await context.newPage();
  }

  test("opens and saves without a change, and nothing has changed", async () => {
    const page = await plainPage();
    const rows = [
      "lots/=lot-a",
      "maltTypes/=pale",
      "stores/=bin-1",
      "records/runs/=run-01",
      "beers/=yard-lager",
    ];
    for (const place of [...rows.map((row) => `/${row}`), "/roster", ""]) {
      await page.goto(`${farm}/form?at=${place}`);
      await page.getByRole("combobox", { name: "Who", exact: true }).fill("The maltster");
      await page.locator("[name=why]").fill("only looked");
      await page.getByRole("button", { name: "Save", exact: true }).click();
      expect([place, await page.getByRole("status").textContent()]).toEqual([
        place,
        "Nothing was changed, so nothing was saved.",
      ]);
    }
    await page.context().close();
  });

  test("adds a row, leaves it empty, and nothing has changed", async () => {
    const page = await plainPage();
    await page.goto(`${farm}/form?at=/roster`);
    await page.getByRole("button", { name: "Add a row: extra window" }).click();
    expect(page.url()).toMatch(/#f\.extra\.0$/);
    expect(await page.getByRole("group", { name: "Extra window 1, new" }).isVisible()).toBe(true);
    await page.getByRole("combobox", { name: "Who", exact: true }).fill("The maltster");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    expect(await page.getByRole("status").textContent()).toContain("Nothing was changed");
    await page.context().close();
  });

  test("mends a wrong number, saves, and finds it in the list", async () => {
    const page = await plainPage();
    await page.goto(`${farm}/form?at=/lots/=lot-b`);
    await page.getByLabel("Moisture", { exact: true }).fill("12abc");
    await page.getByRole("combobox", { name: "Who", exact: true }).fill("The maltster");
    await page.getByLabel("Moisture", { exact: true }).press("Enter");
    await page.getByRole("link", { name: "Moisture", exact: true }).click();
    expect(await page.getByRole("alert").textContent()).toContain('"12abc" is not a number');
    expect(await page.getByLabel("Moisture", { exact: true }).inputValue()).toBe("12abc");
    await page.getByLabel("Moisture", { exact: true }).fill("13.5");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    expect(await page.getByRole("status").textContent()).toContain("was saved");
    expect(await page.getByRole("row", { name: /lot-b/ }).textContent()).toContain("13.5");
    await page.context().close();
  });

  test("meets somebody else at one field and chooses", async () => {
    const [mine, theirs] = [await plainPage(), await plainPage()];
    for (const page of [mine, theirs]) await page.goto(`${farm}/form?at=/lots/=lot-c`);
    for (const [page, moisture] of [[theirs, "12.8"], [mine, "13.1"]] as const) {
      await page.getByLabel("Moisture", { exact: true }).fill(moisture);
      await page.getByRole("combobox", { name: "Who", exact: true }).fill("The grower");
      await page.getByRole("button", { name: "Save", exact: true }).click();
    }
    await mine.getByLabel("Use mine: 13.1 %").check();
    await mine.getByRole("button", { name: "Save", exact: true }).click();
    expect(await mine.getByRole("row", { name: /lot-c/ }).textContent()).toContain("13.1");
    await Promise.all([mine.context().close(), theirs.context().close()]);
  });
});
