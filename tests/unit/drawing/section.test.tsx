import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, test } from "vitest";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import type { Season } from "../../../core/season/season.ts";
import { seasonSchema } from "../../../core/season/season.ts";
import { type Year, yearOf } from "../../../core/year/year.ts";
import { labelBox } from "../../../islands/_charts/label-placement.ts";
import { Section } from "../../../islands/_charts/Section.tsx";
import { demoSeason } from "../../_support/demo.ts";
import emptyFile from "../../../data-demo/empty-farm.json" with { type: "json" };

/** A label of the drawing as it was written into the page. */
interface Label {
  readonly text: string;
  readonly box: ReturnType<typeof labelBox>;
}

/** The placed words of a drawing; halos and letters count as part of them. */
function labelsOf(html: string): Label[] {
  const groups = [...html.matchAll(/<g class="words"[^>]*>(.*?)<\/g>/gs)].map(([, inner]) => inner ?? "");
  return groups.flatMap((group) =>
    [...group.matchAll(/<text ([^>]*)>(.*?)<\/text>/gs)].map(([, attributes = "", inner = ""]) => {
      const read = (name: string) => attributes.match(new RegExp(`(?:^| )${name}="([^"]*)"`))?.[1];
      const letter = inner.match(/<tspan[^>]*>(.*?) <\/tspan>/)?.[1] ?? "";
      const text = inner.replace(/<tspan.*?<\/tspan>/, "").replaceAll("&amp;", "&");
      const anchor = (read("text-anchor") ?? "start") as "start" | "middle" | "end";
      const bold = /\bbold\b/.test(read("class") ?? "");
      const spot = { x: Number(read("x")), y: Number(read("y")), anchor };
      return {
        text: `${letter} ${text}`,
        box: labelBox(text, spot, Number(read("font-size") ?? 11.5), bold, letter),
      };
    })
  );
}

function draw(year: Year): string {
  return renderToString(<Section year={year} weekStartsOn={1} />);
}

let season: Season;
let planned: Year;
let drawn: string;

beforeAll(async () => {
  season = demoSeason();
  planned = yearOf(season, await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null }));
  drawn = draw(planned);
});

describe("the section of the demo year", () => {
  test("no two labels stand on one another", () => {
    const labels = labelsOf(drawn);
    expect(labels.length).toBeGreaterThan(100);
    const struck = labels.flatMap((one, index) =>
      labels.slice(index + 1).filter(({ box }) =>
        one.box.x < box.x + box.width - 0.5 && box.x < one.box.x + one.box.width - 0.5 &&
        one.box.y < box.y + box.height - 0.5 && box.y < one.box.y + one.box.height - 0.5
      ).map((other) => `${one.text} / ${other.text}`)
    );
    expect(struck).toEqual([]);
  });

  test("no label leaves the drawing on its right", () => {
    for (const { box } of labelsOf(drawn)) expect(box.x + box.width).toBeLessThanOrEqual(1315);
  });

  test("no type is set under eleven units", () => {
    const sizes = [...drawn.matchAll(/font-size="([\d.]+)"/g)].map(([, size]) => Number(size));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(11);
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
    expect(svg.length).toBeLessThan(400_000);
  });

  test("nothing in it is not a number", () => {
    expect(drawn).not.toMatch(/NaN|undefined|Infinity/);
  });

  test("it stands in the first view of a laptop", () => {
    expect(Number(drawn.match(/<svg class="section"[^>]* height="(\d+)"/)?.[1])).toBeLessThanOrEqual(640);
  });
});

describe("a section with little in it", () => {
  test("without a plan fields, bins and the calendar are drawn all the same", () => {
    const html = draw(yearOf(season, null));
    expect(html).toContain('class="mark stick awaited"');
    expect(html).not.toContain(' short"');
    expect(html).toContain('data-node="planting:');
    expect(html).toContain('data-node="lot:');
  });

  test("an empty farm says what will stand in each band", () => {
    const html = draw(yearOf(seasonSchema.parse(emptyFile), null));
    expect(html).not.toMatch(/NaN|undefined|Infinity/);
    expect(html.match(/will (stand|be)|How full|Malt on hand/g)?.length).toBeGreaterThanOrEqual(5);
  });
});
