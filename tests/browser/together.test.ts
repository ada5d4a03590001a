import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openPage, startBrowser, violations } from "../_support/browser.ts";
import { demoSeason } from "../_support/demo.ts";
import { storePlannedDemo } from "../_support/planned-demo.ts";
import { startServer, type TestServer } from "../_support/server.ts";

const demo = demoSeason();
const SEASON = `/seasons/${demo.id}`;
const [lot] = demo.lots;

let folder: string;
let server: TestServer;
let browser: Browser;

beforeAll(async () => {
  folder = Deno.makeTempDirSync();
  await storePlannedDemo(folder);
  [server, browser] = await Promise.all([startServer(folder), startBrowser()]);
});
afterAll(async () => {
  await browser.close();
  await server.stop();
  Deno.removeSync(folder, { recursive: true });
});

/** A browser of one person of the farm. */
async function personAt(
  name: string,
  size?: { width: number; height: number },
): Promise<Page & { faults: string[] }> {
  const page = await openPage(browser, size);
  await page.goto(`${server.origin}${SEASON}/who?back=${SEASON}/history`);
  await page.getByRole("radio", { name: "somebody else" }).check();
  await page.getByRole("textbox", { name: "Another name" }).fill(name);
  await page.getByRole("button", { name: "That is me" }).click();
  await page.getByRole("link", { name: `Writing: ${name}` }).waitFor();
  return page;
}

const lotForm = `${SEASON}/farm/form?at=/lots/=${lot!.id}`;

async function nameLot(page: Page, name: string): Promise<void> {
  await page.goto(`${server.origin}${lotForm}`);
  await page.getByRole("textbox", { name: /^Name/ }).first().fill(name);
}

const save = (page: Page) => page.getByRole("button", { name: "Save", exact: true }).last().click();
const stored = async () => (await (await fetch(`${server.origin}/api${SEASON}`)).json()) as typeof demo;

describe("two people at two browsers", () => {
  test("see within a second what the other changed, and undo their own across pages", async () => {
    const [ann, bo] = [await personAt("Ann"), await personAt("Bo")];
    await bo.goto(`${server.origin}${SEASON}/history`);
    await nameLot(ann, "Low barley");
    await save(ann);
    await ann.waitForURL(/done=changed/);
    const began = performance.now();
    await bo.locator(".record-bar .latest", { hasText: "Ann changed" }).waitFor({ timeout: 1000 });
    expect(performance.now() - began).toBeLessThan(1000);
    // The bar tells it first; the page is drawn anew once the server has answered.
    await bo.locator("ol.edits li:first-child", { hasText: "Low barley" }).waitFor({ timeout: 5000 });
    expect(await bo.getByRole("button", { name: "Undo" }).count()).toBe(0);

    await ann.goto(`${server.origin}${SEASON}/history`);
    await ann.getByRole("button", { name: "Undo" }).click();
    await ann.getByRole("button", { name: "Redo" }).waitFor();
    expect((await stored()).lots[0]!.name).toBe(lot!.name);
    expect([ann.faults, bo.faults]).toEqual([[], []]);
    await Promise.all([ann.context().close(), bo.context().close()]);
  }, 60_000);

  test("one cut off for a while: nothing is lost, and what both changed is asked about", async () => {
    const [ann, bo] = [await personAt("Ann"), await personAt("Bo")];
    await nameLot(bo, "Bo's barley");
    await bo.context().setOffline(true);
    await save(bo);
    await bo.locator(".unsent", { hasText: "1 change waits in this browser" }).waitFor();
    expect(await bo.getByRole("textbox", { name: /^Name/ }).first().inputValue()).toBe("Bo's barley");

    await nameLot(ann, "Ann's barley");
    await save(ann);
    await ann.waitForURL(/done=changed/);
    const before = await stored();

    await bo.context().setOffline(false);
    await bo.getByRole("button", { name: "Look at it" }).click({ timeout: 15_000 });
    await bo.getByRole("radio", { name: /^Keep theirs: Ann's barley \(Ann/ }).waitFor();
    expect(await stored()).toEqual(before);
    await bo.getByRole("radio", { name: /^Use mine: Bo's barley/ }).check();
    await save(bo);
    await bo.waitForURL(/done=changed/);
    expect((await stored()).lots[0]!.name).toBe("Bo's barley");
    const { edits } = await (await fetch(`${server.origin}/api${SEASON}/edits`)).json();
    expect(edits.slice(0, 2).map((one: { author: string }) => one.author)).toEqual(["Bo", "Ann"]);
    await Promise.all([ann.context().close(), bo.context().close()]);
  }, 90_000);

  test("one cut off whose change meets nobody is sent by itself, once", async () => {
    const bo = await personAt("Bo");
    await nameLot(bo, "Sent later");
    await bo.context().setOffline(true);
    await save(bo);
    await bo.locator(".unsent", { hasText: "1 change waits" }).waitFor();
    await bo.context().setOffline(false);
    await expect.poll(async () => (await stored()).lots[0]!.name, { timeout: 15_000 }).toBe("Sent later");
    await expect.poll(() => bo.locator(".unsent").textContent(), { timeout: 5000 }).toBe("");
    const { edits } = await (await fetch(`${server.origin}/api${SEASON}/edits`)).json();
    const same = edits.filter((one: { changes: { to?: unknown }[] }) =>
      one.changes.some(({ to }) => to === "Sent later")
    );
    expect(same).toHaveLength(1);

    // The form has led on, as it would have at once; what is typed next is another edit.
    await bo.waitForURL(/done=changed/);
    await nameLot(bo, "And another");
    await save(bo);
    await bo.waitForURL(/done=changed/);
    await expect.poll(async () => (await stored()).lots[0]!.name).toBe("And another");
    await bo.context().close();
  }, 60_000);

  test("who record the same kind of thing at once both do, and nobody is told otherwise", async () => {
    const [ann, bo] = [await personAt("Ann"), await personAt("Bo")];
    const before = (await stored()).records.adjustments.length;
    for (const page of [ann, bo]) {
      await page.goto(`${server.origin}${SEASON}/farm/form?at=/records/adjustments/-`);
      await page.getByRole("combobox", { name: /^Lot/ }).selectOption({ index: 2 });
      await page.getByRole("combobox", { name: /^Store/ }).selectOption({ index: 1 });
      await page.getByRole("textbox", { name: /^Counted less book/ }).fill("-10");
      await page.getByRole("textbox", { name: /^Reason/ }).fill("counted");
    }
    const record = (page: Page) => page.getByRole("button", { name: "Record", exact: true }).last().click();
    await Promise.all([record(ann), record(bo)]);
    for (const page of [ann, bo]) {
      await page.waitForURL(/done=added/);
      await page.waitForTimeout(500);
      expect(await page.locator(".unsent").textContent()).toBe("");
    }
    expect((await stored()).records.adjustments).toHaveLength(before + 2);
    await Promise.all([ann.context().close(), bo.context().close()]);
  }, 60_000);

  test("the record's pages hold at a desk and on a phone", async () => {
    const empty = Deno.readTextFileSync("data-demo/empty-farm.json");
    const headers = { "content-type": "application/json" };
    await (await fetch(`${server.origin}/api/seasons`, { method: "POST", headers, body: empty })).body
      ?.cancel();
    const page = await personAt("Ann", { width: 390, height: 844 });
    for (
      const path of [
        `${SEASON}/history`,
        `${SEASON}/history/1`,
        `${SEASON}/who`,
        "/seasons",
        "/seasons/empty-farm",
        "/seasons/empty-farm/farm",
        "/seasons/empty-farm/history",
        "/seasons",
        `${SEASON}/next`,
      ]
    ) {
      await page.goto(`${server.origin}${path}`);
      for (const width of [390, 1366]) {
        await page.setViewportSize({ width, height: 844 });
        expect([path, width, await violations(page)]).toEqual([path, width, []]);
        const [needs, has] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
        expect([path, width, needs! <= has!]).toEqual([path, width, true]);
      }
    }
    await page.context().close();
  }, 60_000);
});
