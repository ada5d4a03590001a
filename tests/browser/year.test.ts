import type { Browser, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openPage, startBrowser, violations } from "../_support/browser.ts";
import { signs } from "../../islands/_charts/textures.ts";
import { storePlannedDemo } from "../_support/planned-demo.ts";
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
    // The line about the plan is told first; the year is drawn and fetched after it.
    await expect.poll(() => year.getAttribute("data-version"), { timeout: 20_000 }).toContain(".planned.");
    expect(await page.getByRole("button", { name: "Plan again" }).isVisible()).toBe(true);
    expect(await page.getByRole("button", { name: /^Stop/ }).isVisible()).toBe(false);
    expect(page.faults).toEqual([]);
    await page.context().close();
  }, PLANNED_WITHIN_MS + 30_000);

  const scrollsSideways = async (page: Page) => {
    await page.evaluate(() => document.fonts.ready);
    const [needs, has] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    return needs! > has!;
  };

  test("the planned page has no fault that axe finds on a phone and at a desk, and does not scroll sideways", async () => {
    const page = await openPage(browser, { width: 360, height: 800 });
    await page.goto(server.origin);
    for (const width of [360, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      expect([width, await violations(page), await scrollsSideways(page)]).toEqual([width, [], false]);
    }
    await page.context().close();
  });

  // Until its own type has come a page stands in whatever type the machine has, which may be much wider.
  test("the page does not scroll sideways on a phone without its own type", async () => {
    const page = await openPage(browser, { width: 360, height: 800 });
    await page.route("**/*.woff2", (route) => route.abort());
    await page.goto(server.origin);
    expect(await scrollsSideways(page)).toBe(false);
    await page.context().close();
  });
});

describe("the year on a grey printer", () => {
  /** A sample of the key as a grey printer would ink it: how dark it is, and how often ink begins along each row. */
  interface Grey {
    readonly name: string;
    readonly mean: number;
    readonly edges: number;
  }

  /** Photographs every sample of the key without colour and measures it. */
  async function greySamples(): Promise<Grey[]> {
    const context = await browser.newContext({
      viewport: { width: 1280, height: 900 },
      deviceScaleFactor: 3,
    });
    const page = await context.newPage();
    await page.goto(`${server.origin}/seasons/tern-and-furrow/print`);
    // The demo farm has no locked grain, so its key has no sample of it: one is put beside that of feed.
    const bars = signs({ steps: [{ x: 1, y: 1 }], left: 1, right: 21, floor: 10 }, "barley", "locked");
    await page.locator('svg[data-state="grain feed"]').first().evaluate((feed, d) => {
      const locked = feed.cloneNode(true) as Element;
      locked.setAttribute("data-state", "grain locked");
      locked.querySelector(".grain")!.setAttribute("class", "grain barley locked");
      locked.querySelector(".signs")!.setAttribute("class", "signs barley locked");
      locked.querySelector(".signs")!.setAttribute("d", d);
      feed.after(locked);
    }, bars);
    const scale = await context.newPage();
    const found: Grey[] = [];
    for (const sample of await page.locator("svg.sample[data-state]").all()) {
      const picture = (await sample.screenshot()).toString("base64");
      const measured = await scale.evaluate(async (data) => {
        const image = new Image();
        image.src = `data:image/png;base64,${data}`;
        await image.decode();
        const canvas = new OffscreenCanvas(image.width, image.height);
        const pen = canvas.getContext("2d")!;
        pen.drawImage(image, 0, 0);
        const pixels = pen.getImageData(0, 0, image.width, image.height).data;
        let sum = 0, edges = 0, before = 255;
        for (let at = 0; at < pixels.length; at += 4) {
          const grey = 0.2126 * pixels[at]! + 0.7152 * pixels[at + 1]! + 0.0722 * pixels[at + 2]!;
          sum += grey;
          if (before - grey > 60) edges++;
          before = grey;
        }
        return { mean: sum / (pixels.length / 4), edges };
      }, picture);
      found.push({ name: (await sample.getAttribute("data-state"))!, ...measured });
    }
    await context.close();
    return found;
  }

  test("every state of grain, run and malt keeps a grey or a grain of its own", async () => {
    const all = await greySamples();
    const families = [
      ["grain asleep", "grain done", "grain planned", "grain feed", "grain locked"],
      ["crop barley", "crop wheat", "crop rye", "crop oats"],
      ["done", "under way", "booked", "not booked"],
      ["malt ready", "malt resting", "malt bought", "lacking"],
      ["drilled", "to be drilled"],
      ["order", "arrives"],
    ];
    const alike = families.flatMap((names) => {
      const samples = names.map((name) => all.find((one) => one.name === name)!);
      return samples.flatMap((a, index) =>
        samples.slice(index + 1).filter((b) =>
          Math.abs(a.mean - b.mean) < 8 && Math.abs(a.edges - b.edges) < 0.15 * Math.max(a.edges, b.edges)
        ).map((b) => `${a.name} / ${b.name}`)
      );
    });
    expect(alike).toEqual([]);
    const grey = (name: string) => all.find((one) => one.name === name)!.mean;
    // From bare paper to ink: what is to come is lighter than what is recorded, and what is lacking is darkest.
    expect(grey("grain asleep") - grey("grain planned")).toBeGreaterThan(8);
    expect(grey("grain planned") - grey("grain done")).toBeGreaterThan(25);
    expect(grey("booked") - grey("done")).toBeGreaterThan(80);
  });

  test("one landscape sheet holds the section whole, and a second the lists; nor does a phone scroll sideways", async () => {
    const page = await openPage(browser);
    await page.goto(`${server.origin}/seasons/tern-and-furrow/print`);
    const sheets = await page.locator("article.sheet").evaluateAll((all) =>
      all.map((sheet) => [sheet.scrollHeight - sheet.clientHeight, sheet.scrollWidth - sheet.clientWidth])
    );
    expect(sheets[0]!.every((over) => over <= 1)).toBe(true);
    const drawing = await page.locator("svg.section").first().boundingBox();
    const sheet = await page.locator("article.sheet").first().boundingBox();
    expect(drawing!.width).toBeGreaterThan(sheet!.width * 0.97);
    expect((await page.pdf({ preferCSSPageSize: true })).toString("latin1").match(/\/Type \/Page\b/g))
      .toHaveLength(2);
    await page.setViewportSize({ width: 390, height: 800 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(await violations(page)).toEqual([]);
    await page.context().close();
  });
});

describe("the year's page on the printer", () => {
  test("prints as the two sheets, and only these", async () => {
    const page = await openPage(browser, { width: 1366, height: 768 });
    await page.goto(server.origin);
    await page.locator(".for-print .sheet").first().waitFor({ state: "attached" });
    await page.emulateMedia({ media: "print" });
    expect(
      await page.locator(".for-print .sheet").evaluateAll((all) =>
        all.map((sheet) => sheet.checkVisibility())
      ),
    ).toEqual([true, true]);
    for (const other of [".sentence", ".section-box", ".plan-strip", ".parts"]) {
      expect(await page.locator(`body > ${other}, #year ${other}`).first().isVisible()).toBe(false);
    }
    expect((await page.pdf({ preferCSSPageSize: true })).toString("latin1").match(/\/Type \/Page\b/g))
      .toHaveLength(2);
    await page.context().close();
  });

  test("without scripts says where the sheets are", async () => {
    const context = await browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(server.origin);
    await page.emulateMedia({ media: "print" });
    expect(await page.getByText(/two sheets.*\/print\.$/).isVisible()).toBe(true);
    expect(await page.locator("svg.section").first().isVisible()).toBe(false);
    await context.close();
  });
});

describe("the first view", () => {
  test("of a laptop holds the sentence, the whole section and what is next", async () => {
    const page = await openPage(browser, { width: 1366, height: 768 });
    await page.goto(server.origin);
    const section = await page.locator("svg.section").and(page.locator(":visible")).first().boundingBox();
    const next = await page.locator(".next").boundingBox();
    expect(section!.y).toBeGreaterThan(0);
    expect(next!.y + next!.height).toBeLessThanOrEqual(768);
    await page.context().close();
  });

  test("of a phone draws the three answers without scrolling sideways", async () => {
    const page = await openPage(browser, { width: 360, height: 800 });
    await page.goto(server.origin);
    const short = page.locator("svg.short-section");
    const words = await short.locator("text").allTextContents();
    expect(words.some((one) => /^Home pale short .*\d+ \w+, (back|not back)/.test(one))).toBe(true);
    expect(words.some((one) => /^The bed is full until \d+ \w+ \d{4}$/.test(one))).toBe(true);
    expect(words.some((one) => /^[A-Z] [\d.]+ t must leave bin \d by /.test(one))).toBe(true);
    const rights = await short.locator("text").evaluateAll((all) =>
      all.map((one) => one.getBoundingClientRect().right)
    );
    expect(Math.max(...rights)).toBeLessThanOrEqual(360);
    await page.context().close();
  });
});

describe("while a plan is made anew", () => {
  let searched: string, searching: TestServer;
  // With a search and its proof a plan takes some seconds: there is something to stop.
  beforeAll(async () => {
    searched = Deno.makeTempDirSync();
    await storePlannedDemo(searched);
    searching = await startServer(searched, "short");
  });
  afterAll(async () => {
    await searching.stop();
    Deno.removeSync(searched, { recursive: true });
  });

  test("the last plan stays on the page, and the keyboard stays where it was", async () => {
    const page = await openPage(browser);
    // Before the page is awake its buttons are plain forms, which load it anew.
    const awake = page.waitForRequest((request) => request.resourceType() === "eventsource");
    await page.goto(searching.origin);
    await awake;
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
    await page.goto(searching.origin);
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
