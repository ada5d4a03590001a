import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, test } from "vitest";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import type { Year } from "../../../core/year/year.ts";
import { drawnYear } from "../../_support/drawn-year.ts";
import type { Placed } from "../../../islands/_charts/label-placement.ts";
import { Section } from "../../../islands/_charts/Section.tsx";
import { sectionLabels, sectionWishes } from "../../../islands/_charts/section-labels.ts";
import { layoutSection } from "../../../islands/_charts/section-layout.ts";
import type { WordsWish } from "../../../islands/_charts/Words.tsx";
import { demoSeason } from "../../_support/demo.ts";
import { stressed } from "./stress-year.ts";

type Label = Placed<WordsWish>;

/** A straight piece of a line that was drawn, read back from its path. */
interface Piece {
  readonly x1: number;
  readonly x2: number;
  readonly y1: number;
  readonly y2: number;
}

/** The level pieces of every path of a class: the drawing's own ink, not what the placer was told of it. */
function pieces(html: string, kind: RegExp): Piece[] {
  return [...html.matchAll(/<path class="([^"]*)" d="([^"]*)"/g)].filter(([, name = ""]) => kind.test(name))
    .flatMap(([, , d = ""]) => {
      const found: Piece[] = [];
      let x = 0, y = 0;
      for (const [, letter, numbers = ""] of d.matchAll(/([MHVL])([^A-Za-z]*)/g)) {
        const [a = 0, b = 0] = numbers.trim().split(/[ ,]+/).map(Number);
        const to = letter === "H" ? { x: a, y } : letter === "V" ? { x, y: a } : { x: a, y: b };
        if (letter !== "M") {
          found.push({
            x1: Math.min(x, to.x),
            x2: Math.max(x, to.x),
            y1: Math.min(y, to.y),
            y2: Math.max(y, to.y),
          });
        }
        x = to.x;
        y = to.y;
      }
      return found;
    });
}

function struckBy(lines: readonly Piece[], labels: readonly Label[]): string[] {
  return labels.filter((label) =>
    lines.some(({ x1, x2, y1, y2 }) =>
      x1 < label.x + label.width - 0.5 && label.x + 0.5 < x2 + 0.01 && y1 < label.y + label.height - 0.5 &&
      label.y + 0.5 < y2 + 0.01
    )
  ).map(({ letter, text }) => `${letter} ${text}`);
}

function overlapping(labels: readonly Label[]): string[] {
  return labels.flatMap((one, index) =>
    labels.slice(index + 1).filter((box) =>
      one.x < box.x + box.width && box.x < one.x + one.width && one.y < box.y + box.height &&
      box.y < one.y + one.height
    ).map((other) => `${one.text} / ${other.text}`)
  );
}

let demo: Year;
const years: Record<string, () => Year> = { demo: () => demo, "the fullest year": () => stressed(demo) };

beforeAll(async () => {
  const season = demoSeason();
  demo = drawnYear(season, await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null }));
});

describe.each([
  ["demo", 1310],
  ["demo", 1170],
  ["the fullest year", 1310],
  ["the fullest year", 1560],
])("words of %s on %i units", (name, width) => {
  const draw = () => {
    const year = years[name]!();
    const layout = layoutSection(year, width);
    return { year, layout, labels: sectionLabels(year, layout) };
  };

  test("no two stand on one another", () => {
    expect(overlapping(draw().labels)).toEqual([]);
  });

  test("none is struck by a level, a ground, a dimension line or the rule of today", () => {
    const { year, labels } = draw();
    const html = renderToString(<Section year={year} weekStartsOn={1} width={width} />);
    const lines = pieces(html, /^(level|rests-line|ready-line|ground|tank-rule|wakes)\b/);
    expect(lines.length).toBeGreaterThan(300);
    expect(struckBy(lines, labels)).toEqual([]);
    const today = pieces(
      html.slice(html.indexOf('<g class="today"')).replace("<path d", '<path class="now" d'),
      /^now$/,
    );
    expect(today).toHaveLength(1);
    expect(struckBy(today, labels)).toEqual([]);
  });

  test("no line that leads to a mark crosses other words", () => {
    const { labels } = draw();
    const crossed = labels.flatMap(({ leader, text }) =>
      (leader?.boxes ?? []).flatMap((box) =>
        labels.filter((other) =>
          other.text !== text && other.x < box.x + box.width && box.x < other.x + other.width &&
          other.y < box.y + box.height && box.y < other.y + other.height
        ).map((other) => `${text} / ${other.text}`)
      )
    );
    expect(crossed).toEqual([]);
  });

  test("what stands nowhere is counted, and nothing is counted twice", () => {
    const { year, layout, labels } = draw();
    const told = labels.flatMap(({ wish, counts }) => counts.length > 0 ? counts : [wish]);
    const wishes = sectionWishes(year, layout).filter(({ crowd }) => crowd !== undefined);
    const named = told.filter(({ crowd }) => crowd !== undefined);
    expect(named).toHaveLength(wishes.length);
    for (const { counts, text } of labels) if (counts.length > 0) expect(text).toBe(`+${counts.length}`);
  });

  test("no letter of a lot stands alone", () => {
    for (const { letter, text } of draw().labels) if (letter !== "") expect(text).not.toBe("");
  });
});

describe("the three answers stand in the drawing of the demo", () => {
  const texts = (width: number) =>
    sectionLabels(demo, layoutSection(demo, width)).map(({ letter, text, after }) =>
      `${letter} ${text}${after}`.trim()
    );

  test.each([1310, 1170])("on %i units: which malt runs short, when, how much", (width) => {
    const worst = texts(width).filter((text) =>
      /^home pale malt runs short (on|about) \d+ \w+, back/.test(text)
    );
    expect(worst.length).toBeGreaterThan(0);
    for (const text of texts(width)) expect(text).not.toMatch(/^\d+ [A-Z]\w\w$/);
  });

  test.each([1310, 1170])("on %i units: which vessel is full, and how long", (width) => {
    expect(
      texts(width).some((text) =>
        /^The bed is full until \d+ \w+ \d{4}: no further run beside those planned$/.test(text)
      ),
    ).toBe(true);
  });

  test.each([1310, 1170])("on %i units: what must leave each bin, by when, and what comes in", (width) => {
    const must = texts(width).filter((text) => text.includes(" must leave "));
    const notes = demo.stores.flatMap((row) => row.mustLeave);
    expect(notes.length).toBeGreaterThan(2);
    expect(must).toHaveLength(notes.length);
    for (const text of must) {
      expect(text).toMatch(
        /^[A-Z] [\d.]+ t must leave b(in \d|ulk bags) by (about )?\d+ \w+.*: [A-Z] [\d.]+ t comes (about )?\d+ \w+$/,
      );
    }
  });

  test.each([1310, 1170, 1279])(
    "on %i units: what must leave stands at its own bin and ends at its day",
    (width) => {
      const layout = layoutSection(demo, width);
      const labels = sectionLabels(demo, layout);
      for (const [index, { row, ground, must }] of layout.stores.places.entries()) {
        const above = layout.stores.places[index - 1]?.ground ?? layout.fields.bottom;
        for (const { note, go } of must) {
          const label = labels.find(({ letter, text }) => letter === note.letter && text === go);
          expect([row.name, go, label?.leader]).toEqual([row.name, go, null]);
          expect(label!.y).toBeGreaterThan(above);
          expect(label!.y + label!.height).toBeLessThan(ground + 1);
          const right = layout.frame.x(note.onDay + 1);
          expect(right - (label!.x + label!.width)).toBeGreaterThan(0);
          expect(right - (label!.x + label!.width)).toBeLessThan(61);
        }
      }
    },
  );
});
