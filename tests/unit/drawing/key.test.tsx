import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, test } from "vitest";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import type { Year } from "../../../core/year/year.ts";
import { drawnYear } from "../../_support/drawn-year.ts";
import { Key } from "../../../islands/_charts/Key.tsx";
import { demoSeason } from "../../_support/demo.ts";

let year: Year;
let html: string;
/** The key of a farm on which dressed seed lies in a bin. */
let lockedHtml: string;

beforeAll(async () => {
  const season = demoSeason();
  year = drawnYear(season, await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null }));
  html = renderToString(<Key year={year} />);
  const stores = year.stores.map((row) => ({
    ...row,
    stays: row.stays.map((stay) => ({ ...stay, stretches: [{ ...stay, state: "locked" as const }] })),
  }));
  lockedHtml = renderToString(<Key year={{ ...year, stores }} />);
});

describe("the key", () => {
  test("names every letter over the sticks with its beer", () => {
    const words = html.replace(/<[^>]*>/g, " ").replace(/\s+/g, " ");
    for (const { letter, beerName } of year.brews) expect(words).toContain(`${letter} ${beerName}`);
    expect(words).toContain("m Munich");
  });

  test.each([
    "drilled",
    "to be drilled",
    "order",
    "arrives",
    "asleep",
    "feed only",
    "a load that must leave",
  ])(
    "explains the sign of %s",
    (words) => expect(html).toMatch(new RegExp(`</svg>${words}`)),
  );

  test("explains locked grain where some is drawn, and only there", () => {
    const words = /<\/svg>locked: neither malt, mash nor feed/;
    expect(html).not.toMatch(words);
    expect(lockedHtml).toMatch(words);
  });

  test("draws every state in its own way: no two samples have the same strokes and looks", () => {
    const samples = [...lockedHtml.matchAll(/data-state="([^"]*)">(.*?)<\/svg>/gs)].map((
      [, name = "", ink = ""],
    ) => ({ name, ink }));
    expect(samples.length).toBeGreaterThan(20);
    expect(new Set(samples.map(({ ink }) => ink)).size).toBe(samples.length);
  });
});
