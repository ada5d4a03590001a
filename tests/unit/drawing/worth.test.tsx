import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, test } from "vitest";
import { weeksAhead } from "../../../core/explain/run-values.ts";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { type RunWorth, runWorthWords, worthMeasure, worthShare } from "../../../core/year/run-worth.ts";
import type { Year } from "../../../core/year/year.ts";
import { Key } from "../../../islands/_charts/Key.tsx";
import { Section } from "../../../islands/_charts/Section.tsx";
import { sectionLabels } from "../../../islands/_charts/section-labels.ts";
import { fitView, layoutSection } from "../../../islands/_charts/section-layout.ts";
import { STRIP, worthBoxes, worthScaleWords } from "../../../islands/_charts/worth-layout.ts";
import { demoSeason } from "../../_support/demo.ts";
import { drawnYear } from "../../_support/drawn-year.ts";

const week = (day: number, gain: Partial<RunWorth> = {}): RunWorth => ({
  day,
  brews: 0,
  promises: 0,
  homeMaltG: 0,
  words: Object.keys(gain).length === 0 ? "no measurable gain" : "a gain",
  isNoise: Object.keys(gain).length === 0,
  ...gain,
});

describe("what one more run is worth, in words and heights", () => {
  test("brews are counted before promises, promises before malt", () => {
    const malt = week(0, { homeMaltG: 5e5 }),
      promise = week(7, { promises: 2 }),
      brew = week(14, { brews: 1 });
    expect(worthMeasure([malt, promise, brew])).toBe("brews");
    expect(worthMeasure([malt, promise])).toBe("promises");
    expect(worthMeasure([malt])).toBe("homeMaltG");
    expect(worthMeasure([week(0)])).toBe(null);
  });

  test("the best week stands highest, a gain of a lesser kind is still seen, and none is none", () => {
    const weeks = [week(0), week(7, { homeMaltG: 5e5 }), week(14, { brews: 1 }), week(21, { brews: 2 })];
    expect(weeks.map((one) => worthShare(one, weeks))).toEqual([0, 0.2, 0.5, 1]);
  });

  test("a gain that is noise does not count, however large it looks", () => {
    const weeks = [{ ...week(0, { brews: 3 }), isNoise: true }, week(7, { homeMaltG: 1 })];
    expect(worthMeasure(weeks)).toBe("homeMaltG");
    expect(worthShare(weeks[0]!, weeks)).toBe(0);
  });

  test("the sentence names the best week and counts those in which nothing is gained", () => {
    const day = 20_000;
    expect(runWorthWords([week(day), week(day + 7, { brews: 1 }), week(day + 14)])).toBe(
      "One run more would bring most in the week of 11 Oct: a gain; in 2 of 3 weeks it would bring nothing measurable.",
    );
    expect(runWorthWords([week(day), week(day + 7)])).toBe(
      "One run more would bring nothing measurable in any of 2 weeks.",
    );
    expect(runWorthWords([])).toBe("");
  });
});

describe("the strip under the malthouse", () => {
  let bare: Year;
  let year: Year;
  beforeAll(async () => {
    const season = demoSeason();
    bare = drawnYear(season, await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null }));
    const weeks = weeksAhead(season).map((day, at) =>
      at % 3 === 0 ? week(day) : week(day, { homeMaltG: at * 1e4 })
    );
    year = { ...bare, runWorth: weeks };
  });
  const draw = (one: Year) => renderToString(<Section year={one} weekStartsOn={1} {...fitView(one)} />);

  test("is not there while nothing is known, neither in the drawing nor in the key", () => {
    expect(draw(bare)).not.toContain("one more run");
    expect(renderToString(<Key year={bare} />)).not.toContain("further run that week is worth");
    expect(renderToString(<Key year={year} />)).toContain("further run that week is worth");
  });

  test("has a box a week on its own week, between the stairs and the malt, and says in words what it shows", () => {
    const { malthouse, malt, frame } = layoutSection(year, 1310);
    const boxes = worthBoxes(year, malthouse.worth!, frame);
    expect(boxes).toHaveLength(year.runWorth.length);
    expect(boxes[4]!.x).toBe(frame.x(year.runWorth[4]!.day));
    for (const { y, height } of boxes) {
      expect(y).toBeGreaterThan(malthouse.stairsBottom);
      expect(y + height).toBeLessThan(malt.top);
    }
    expect(Math.max(...boxes.map(({ height }) => height))).toBe(STRIP);
    const html = draw(year);
    expect(html).toContain(`aria-label="${runWorthWords(year.runWorth)}"`);
    expect(html).toContain(worthScaleWords(year, frame));
  });

  test("leaves the section whole in the first view of a laptop, and no type under eleven pixels", () => {
    const { width, height } = fitView(year);
    expect(layoutSection(year, width, height).height * 1310 / width).toBeLessThanOrEqual(650);
    expect(11.5 * 1310 / width).toBeGreaterThanOrEqual(10.99);
  });

  test("no label stands on it", () => {
    const layout = layoutSection(year, 1310);
    const boxes = worthBoxes(year, layout.malthouse.worth!, layout.frame);
    const hit = sectionLabels(year, layout).filter((label) =>
      boxes.some((box) =>
        label.x < box.x + box.width && box.x < label.x + label.width && label.y < box.y + box.height &&
        box.y < label.y + label.height
      )
    );
    expect(hit.map(({ text }) => text)).toEqual([]);
  });
});

describe("a run's own words", () => {
  test("say how far it may slip and what stops it, once that is known, and of no other run", async () => {
    const season = demoSeason();
    const drawn = drawnYear(season, await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null }));
    const free = drawn.malthouse.runs.find(({ standing }) => standing === "not booked")!;
    const words = "may slip 2 days: Amber of 3 Mar would take bought malt";
    const html = renderToString(
      <Section year={{ ...drawn, runSlack: [{ runId: free.id, words }] }} weekStartsOn={1} />,
    );
    const labels = [...html.matchAll(/aria-label="(Run [^"]*)"/g)].map(([, label = ""]) => label);
    expect(labels.filter((label) => label.includes(words))).toEqual([
      labels.find((label) => label.startsWith(`Run ${free.number},`)),
    ]);
    expect(renderToString(<Section year={drawn} weekStartsOn={1} />)).not.toContain("may slip");
  });
});
