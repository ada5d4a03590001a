import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, test } from "vitest";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { firstLack, sentenceText } from "../../../core/year/sentence.ts";
import { upperFirst } from "../../../core/year/words.ts";
import { sectionLabels } from "../../../islands/_charts/section-labels.ts";
import { fitSheet, fitView, layoutSection } from "../../../islands/_charts/section-layout.ts";
import { PrintPage, SHEET } from "../../../routes/_pages/print.tsx";
import { viewOf, type YearView } from "../../../routes/_pages/view.ts";
import { YearPage } from "../../../routes/_pages/year.tsx";
import { demoSeason } from "../../_support/demo.ts";

let view: YearView;
let sheets: string[];
let page: string;

beforeAll(async () => {
  const season = demoSeason();
  const plan = await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null });
  view = viewOf({ season, findings: [], plan, state: "planned", asOf: season.asOf });
  sheets = renderToString(<PrintPage view={view} />).split("<article").slice(1);
  page = renderToString(<YearPage view={view} />);
});

/** What a person reads, without tags, every blank one blank. */
function text(html: string): string {
  return html.replace(/<[^>]*>/g, " ").replaceAll("&amp;", "&").replaceAll("\u00a0", " ").replace(
    /\s+/g,
    " ",
  );
}

/** The cells of every row of a table. */
function rows(html: string): string[][] {
  return [...html.matchAll(/<tr[^>]*>(.*?)<\/tr>/gs)].map(([, row = ""]) =>
    [...row.matchAll(/<td[^>]*>(.*?)<\/td>/gs)].map(([, cell = ""]) => text(cell).trim())
  );
}

/** The words in the drawing on paper and on the screen. */
function drawings(): string[][] {
  const { year } = view;
  return [fitSheet(year, SHEET.width, SHEET.height), fitView(year)].map(({ width, height }) =>
    sectionLabels(year, layoutSection(year, width, height)).map((one) =>
      `${one.letter} ${one.text}${one.after}`.trim()
    )
  );
}

describe("headline, drawing and lists say the same, word by word and day by day", () => {
  test("when home malt runs short", () => {
    const { words, text: whole } = firstLack(view.year)!;
    const headline = sentenceText(view.sentence);
    expect(headline).toContain(words.replace(/^home .* malt runs short /, ""));
    for (const labels of drawings()) expect(labels).toContain(whole);
    expect(text(sheets[1]!)).toContain(upperFirst(whole));
    expect(text(page)).toContain(upperFirst(whole));
  });

  test("which vessel is full, and until when", () => {
    const full = view.year.malthouse.vessels.flatMap((one) => one.full);
    expect(full).toHaveLength(1);
    expect(sentenceText(view.sentence)).toContain(`; ${full[0]!.words};`);
    for (const labels of drawings()) expect(labels).toContain(upperFirst(full[0]!.text));
    expect(text(page)).toContain(upperFirst(full[0]!.words));
    for (const one of view.shortfalls.filter(({ cause }) => cause === "bed full")) {
      expect(one.why).toMatch(/^the bed is full: no further run can be started .* beside those planned$/);
    }
  });

  test("what must leave which bin, and by when", () => {
    const notes = view.year.stores.flatMap(({ mustLeave }) => mustLeave).toSorted((a, b) =>
      a.byDay - b.byDay
    );
    expect(notes.length).toBeGreaterThan(2);
    const headline = sentenceText(view.sentence);
    const tonnes = notes.reduce((sum, one) => sum + one.massG, 0) / 1e6;
    expect(headline).toContain(`${tonnes.toFixed(1)} t must leave `);
    expect(headline).toContain(`the first ${notes[0]!.words.by}, the last ${notes.at(-1)!.words.by}.`);
    for (const { letter, massG, storeName, words } of notes) {
      const told = `${letter} ${words.go}`;
      for (const labels of drawings()) {
        expect(labels.filter((one) => one.startsWith(told) && one.endsWith(`: ${words.comes}`))).toHaveLength(
          1,
        );
      }
      for (const html of [sheets[1]!, page]) {
        const row = rows(html).find((cells) =>
          cells[0] === words.by && cells[2] === letter && cells[4] === storeName
        );
        expect([told, row?.[3]]).toEqual([told, expect.stringContaining(`${(massG / 1e6).toFixed(1)} t`)]);
        expect(row![6]).toMatch(new RegExp(`^${words.comes}`));
      }
    }
  });

  test("every +n of the drawing on paper is listed on the same sheet", () => {
    const { width, height } = fitSheet(view.year, SHEET.width, SHEET.height);
    const counted = sectionLabels(view.year, layoutSection(view.year, width, height)).flatMap(({ counts }) =>
      counts
    );
    expect(counted.length).toBeGreaterThan(0);
    const listed = text(sheets[0]!.slice(sheets[0]!.indexOf('class="left-out"')));
    for (const wish of counted) {
      expect(listed).toContain(wish.full ?? `${wish.letter ?? ""} ${wish.text}${wish.after ?? ""}`.trim());
    }
  });

  test("each caution stands once on the sheets", () => {
    const cautions = sheets[1]!.slice(sheets[1]!.indexOf("<aside"));
    const lines = [...cautions.matchAll(/<li>(.*?)<\/li>/gs)].map(([, line]) => line);
    expect(lines.length).toBeGreaterThan(4);
    expect(new Set(lines).size).toBe(lines.length);
  });
});
