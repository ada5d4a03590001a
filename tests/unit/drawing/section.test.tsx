import { cpuUsage } from "node:process";
import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, test } from "vitest";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import type { Year } from "../../../core/year/year.ts";
import { drawnYear } from "../../_support/drawn-year.ts";
import { Section } from "../../../islands/_charts/Section.tsx";
import { sectionLabels } from "../../../islands/_charts/section-labels.ts";
import { fitSheet, fitView, layoutSection } from "../../../islands/_charts/section-layout.ts";
import { traceData } from "../../../islands/_charts/trace-data.ts";
import { demoSeason } from "../../_support/demo.ts";
import { stressed } from "./stress-year.ts";
import emptyFile from "../../../data-demo/empty-farm.json" with { type: "json" };

function draw(year: Year): string {
  return renderToString(<Section year={year} weekStartsOn={1} />);
}

let season: Season;
let planned: Year;
let drawn: string;

beforeAll(async () => {
  season = demoSeason();
  planned = drawnYear(season, await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null }));
  drawn = draw(planned);
});

describe("the section of the demo year", () => {
  test("no label leaves the drawing on its right", () => {
    const labels = sectionLabels(planned, layoutSection(planned, 1310));
    expect(labels.length).toBeGreaterThan(100);
    for (const box of labels) expect(box.x + box.width).toBeLessThanOrEqual(1315);
  });

  test("every placed word is written into the drawing", () => {
    const labels = sectionLabels(planned, layoutSection(planned, 1310));
    const words = drawn.slice(drawn.indexOf('<g class="words"')).replace(/<[^>]*>/g, " ");
    for (const { text, after } of labels) {
      expect(words).toContain(text.replaceAll("&", "&amp;"));
      expect(words).toContain(after.replaceAll("&", "&amp;"));
    }
  });

  test("names of fields stand whole, in as many lines as they need", () => {
    const fields = drawn.slice(drawn.indexOf('class="band fields"'), drawn.indexOf('class="band malthouse"'));
    const names = [...fields.matchAll(/<text [^>]*class="row-name">(.*?)<\/text>/g)].map(([, name = ""]) =>
      name.replace(/<\/tspan><tspan[^>]*>/g, " ").replace(/<[^>]*>/g, "")
    );
    expect(names).toContain("Home Piece, Long Bottom, Upper Stone");
    expect(names.filter((name) => name.endsWith("…"))).toEqual([]);
  });

  test("no type is set under eleven units", () => {
    const sizes = [...drawn.matchAll(/font-size="([\d.]+)"/g)].map(([, size]) => Number(size));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(11);
  });

  test("dressed seed is called locked in words and in its mark, and nowhere feed", () => {
    const lots = season.lots.map((lot) => lot.use === "feed" ? { ...lot, treatedSeed: true } : lot);
    const letters = lots.filter(({ treatedSeed }) => treatedSeed).map(({ letter }) => letter);
    expect(letters.length).toBeGreaterThan(0);
    const year = drawnYear({ ...season, lots }, null);
    const said = sectionLabels(year, layoutSection(year, 1310)).filter(({ letter }) =>
      letter !== undefined && letters.includes(letter)
    );
    expect(said.some(({ text }) => text.endsWith(", locked"))).toBe(true);
    expect(said.filter(({ text }) => text.includes("feed"))).toEqual([]);
    const html = draw(year);
    expect(html).toContain("locked (neither malt, mash nor feed)");
    expect(html).not.toContain("feed only");
    expect(html).toMatch(/class="signs \w+ locked"/);
  });

  test("a home share of nearly all is never said to be all, neither on the stick nor in the trace", () => {
    const [brew] = planned.brews.filter(({ gristG }) => gristG > 0);
    const of = (homeShare: number): Year => ({
      ...planned,
      brews: [{ ...brew!, homeShare }],
      graph: {
        ...planned.graph,
        nodes: planned.graph.nodes.filter(({ id }) => id === brew!.node).map((one) => ({
          ...one,
          homeShare,
        })),
      },
    });
    const said = (homeShare: number) =>
      draw(of(homeShare)).replaceAll("\u00a0", " ").match(/\d+ % home-grown/g)![0];
    expect([1, 0.996, 0.93, 0.0004, 0].map(said)).toEqual(
      [100, 99, 93, 1, 0].map((share) => `${share} % home-grown`),
    );
    const kept = (homeShare: number) =>
      traceData(of(homeShare), layoutSection(of(homeShare), 1310)).nodes[0]![6];
    expect([1, 0.9997, 0.9314, 0.0004, 0].map(kept)).toEqual([1, 0.999, 0.931, 0.001, 0]);
  });

  test("malt of a run that failed is said to be held back, without a day", () => {
    const ended = season.records.runs.find((one) => one.stripAt !== undefined && one.outputs.length > 0)!;
    const runs = season.records.runs.map((one) => one === ended ? { ...one, outcome: "held" as const } : one);
    const html = draw(drawnYear({ ...season, records: { ...season.records, runs } }, null));
    expect(html.match(/, held back/g)).toHaveLength(ended.outputs.length);
  });

  test("every mark is a thing of the trace and has a name of more than one word", () => {
    const nodes = new Set(planned.graph.nodes.map(({ id }) => id));
    const marks = [...drawn.matchAll(/<g class="mark[^>]*>/g)].map(([tag]) => tag);
    expect(marks.length).toBeGreaterThan(250);
    for (const tag of marks) {
      expect(nodes).toContain(tag.match(/data-node="([^"]*)"/)?.[1]);
      expect(tag.match(/aria-label="([^"]*)"/)?.[1]).toMatch(/\w+ \w+/);
    }
  });

  test("every brew of the year has its stick, every run its stair", () => {
    const shown = planned.brews.filter(({ tail, day }) => !tail && day <= planned.lastDay);
    for (const { node } of shown) expect(drawn).toContain(`data-node="${node}"`);
    const runs = planned.malthouse.runs.filter(({ stages }) =>
      (stages[0]?.start ?? Infinity) < planned.lastDay + 1
    );
    for (const { node } of runs) expect(drawn).toContain(`data-node="${node}"`);
  });

  test("the page's own policy is kept: no style and no script inside", () => {
    expect(drawn).not.toMatch(/ style=|<style|<script| on[a-z]+=/);
  });

  test("the drawing is small enough to be sent at each better plan", () => {
    const svg = drawn.match(/<svg class="section".*?<\/svg>/s)?.[0] ?? "";
    expect(svg.length).toBeGreaterThan(50_000);
    expect(svg.length).toBeLessThan(420_000);
  });

  test("nothing in it is not a number", () => {
    expect(drawn).not.toMatch(/NaN|undefined|Infinity/);
  });

  test("it stands in the first view of a laptop", () => {
    const { width, height } = fitView(planned);
    // Drawn on 1,310 pixels; under it stands the line of what is next.
    expect(layoutSection(planned, width, height).height * 1310 / width).toBeLessThanOrEqual(650);
    // Type of 11.5 units is never smaller than eleven pixels.
    expect(11.5 * 1310 / width).toBeGreaterThanOrEqual(10.99);
  });
});

describe("a section with little in it", () => {
  test("without a plan fields, bins and the calendar are drawn all the same", () => {
    const html = draw(drawnYear(season, null));
    expect(html).toContain('class="mark stick awaited"');
    expect(html).not.toContain(' short"');
    expect(html).toContain('data-node="planting:');
    expect(html).toContain('data-node="lot:');
  });

  test("an empty farm says what will stand in each band", () => {
    const html = draw(drawnYear(seasonSchema.parse(emptyFile), null));
    expect(html).not.toMatch(/NaN|undefined|Infinity/);
    expect(html.match(/will (stand|be)|How full|Malt on hand/g)?.length).toBeGreaterThanOrEqual(5);
  });
});

describe("the fullest year", () => {
  test("has 160 brews and more than 60 runs, each with its mark, and nothing that is not a number", () => {
    const year = stressed(planned);
    const html = draw(year);
    expect(html).not.toMatch(/NaN|undefined|Infinity/);
    expect(html.match(/<g class="mark stick/g)?.length).toBe(160);
    expect(html.match(/<g class="mark run/g)?.length).toBeGreaterThan(60);
  });

  test("is drawn by the server in less than 100 ms and weighs less than half a megabyte", () => {
    const year = stressed(planned);
    const times = Array.from({ length: 12 }, () => {
      // Time of the processor, because other work on the machine is not the drawing's.
      const start = cpuUsage();
      expect(draw(year).length).toBeLessThan(500_000);
      const { user, system } = cpuUsage(start);
      return (user + system) / 1000;
    });
    expect(Math.min(...times)).toBeGreaterThan(0);
    expect(Math.min(...times)).toBeLessThan(100);
  });

  test("keeps the proportion of the sheet, so that the axis is as long as the paper", () => {
    const year = stressed(planned);
    const { width, height } = fitSheet(year, 1170, 640);
    const needs = layoutSection(year, width, height).height;
    expect(width).toBeGreaterThan(1170);
    expect(width / needs).toBeCloseTo(1170 / 640, 1);
  });
});
