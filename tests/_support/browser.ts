import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";
import { findChromium } from "./chromium.ts";

/** Starts a real browser without a window. As root it has to run without its sandbox. */
export function startBrowser(): Promise<Browser> {
  const executablePath = findChromium();
  if (executablePath === null) throw new Error("No Chromium was found; see tests/_support/run.ts.");
  const args = ["--disable-background-networking", "--disable-component-update", "--disable-sync"];
  return chromium.launch({ executablePath, args: Deno.uid() === 0 ? [...args, "--no-sandbox"] : args });
}

/** Opens a page that remembers what went wrong in it: script errors, refused content, failed requests. */
export async function openPage(
  browser: Browser,
  size = { width: 1280, height: 900 },
): Promise<Page & { faults: string[] }> {
  const page = await (await browser.newContext({ viewport: size })).newPage();
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(String(error)));
  page.on("console", (line) => line.type() === "error" && faults.push(line.text()));
  return Object.assign(page, { faults });
}

/** What axe-core finds wrong with the page by WCAG 2.2 A and AA, as "rule: element" lines. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const found = await page.evaluate(async () => {
    const { run } = (globalThis as unknown as { axe: typeof axe }).axe;
    const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
    // Of what passes only one element a rule is described: on the year's page that is most of the work.
    return (await run(document, { runOnly: tags, resultTypes: ["violations"] })).violations;
  });
  return found.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target.join(" ")}`));
}
