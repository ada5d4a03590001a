import { array, assert, constantFrom, integer, property, record } from "fast-check";
import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, test } from "vitest";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { movedBetween } from "../../../core/plan/moved.ts";
import type { Plan, PlanRun } from "../../../core/plan/plan.ts";
import { addDays } from "../../../core/calendar.ts";
import type { Season } from "../../../core/season/season.ts";
import { movedWords } from "../../../core/year/moved-words.ts";
import { NO_OLD_DAYS, oldDaysOf } from "../../../core/year/old-days.ts";
import { Section } from "../../../islands/_charts/Section.tsx";
import { frameOf } from "../../../islands/_charts/frame.ts";
import { laneOf, type LinkAt } from "../../../islands/_charts/old-layout.ts";
import { stairProfile } from "../../../islands/_charts/Old.tsx";
import { layoutSection } from "../../../islands/_charts/section-layout.ts";
import { PrintPage } from "../../../routes/_pages/print.tsx";
import { viewOf, type YearView } from "../../../routes/_pages/view.ts";
import { YearPage } from "../../../routes/_pages/year.tsx";
import { demoSeason } from "../../_support/demo.ts";

let season: Season;
let plan: Plan;
let view: YearView;
let drawn: string;

/** The year of the plan, told after one that differed from it as `otherwise` says. */
function after(otherwise: Partial<Plan>): YearView {
  const before = { ...plan, ...otherwise };
  const moved = movedBetween(before, plan);
  const news = {
    because: [],
    moved: movedWords(season, moved),
    oldDays: oldDaysOf(season, before, plan, moved),
  };
  return viewOf({ season, findings: [], plan, state: "planned", asOf: season.asOf, news });
}

function shifted(run: PlanRun, days: number): PlanRun {
  const at = (local: string) => `${addDays(local.slice(0, 10), days)}${local.slice(10)}`;
  return {
    ...run,
    ...{
      steepInAt: at(run.steepInAt),
      castAt: at(run.castAt),
      kilnAt: at(run.kilnAt),
      stripAt: at(run.stripAt),
    },
  };
}

const draw = ({ year }: YearView) => renderToString(<Section year={year} weekStartsOn={1} />);
const count = (html: string, what: RegExp) => [...html.matchAll(what)].length;

/** Runs and brews that lie ahead, inside the horizon. */
const ahead = () =>
  plan.runs.filter(({ standing, stripAt }) => standing === "not booked" && stripAt < "2027-12");
const brewsAhead = () => plan.brews.filter(({ standing, on }) => standing === "not booked" && on < "2027-12");

beforeAll(async () => {
  season = demoSeason();
  plan = await makeNaivePlan(season, { seed: 1, iterations: 0, highs: null });
  const [moved, fresh] = ahead();
  const [brew, other] = brewsAhead();
  const lost: PlanRun = { ...shifted(moved!, 14), id: "lost", maltId: "munich" };
  view = after({
    runs: [...plan.runs.filter((run) => run !== moved && run !== fresh), shifted(moved!, 3), lost],
    brews: [
      ...plan.brews.filter((one) => one !== brew && one !== other),
      { ...brew!, on: addDays(brew!.on, 5) },
    ],
  });
  drawn = draw(view);
});

describe("the section after an edit", () => {
  test("marks each old place once, and nothing when nothing has moved", () => {
    const { runs, brews } = view.year.oldDays;
    expect(runs.map(({ became }) => became).toSorted()).toEqual(["gone", "moved", "new"]);
    expect(brews.map(({ became }) => became).toSorted()).toEqual(["moved", "new"]);
    expect(count(drawn, /class="was"/g)).toBe(3);
    const still = after({});
    expect(draw(still)).not.toContain('"old"');
    expect(renderToString(<YearPage view={still} />)).not.toContain("old-days");
  });

  test("runs and brews say where they were in their own names", () => {
    const names = [...drawn.matchAll(/<g class="mark (?:run|stick)[^>]*aria-label="([^"]*)"/g)].map((
      [, name],
    ) => name!);
    expect(names.filter((name) => /; was to be steeped \d+ \w+, now \d+ \w+$/.test(name))).toHaveLength(1);
    expect(names.filter((name) => /; was to be brewed \d+ \w+, now \d+ \w+$/.test(name))).toHaveLength(1);
    expect(names.filter((name) => / not planned before$/.test(name))).toHaveLength(2);
  });

  test("what has no mark any more has a name of its own, the other outlines are silent", () => {
    const [tag] = drawn.match(/<g class="old"[^>]*role="img"[^>]*>/g)!;
    expect(tag).toMatch(
      /aria-label="Run of Munich malt, lot \w+: was to be steeped \d+ \w+, now not planned"/,
    );
    const silent = drawn.match(/<g class="old"[^>]*aria-hidden="true"/g)!;
    expect(count(drawn, /<g class="old"/g)).toBe(silent.length + 1);
  });

  test("an old outline is traced with its run, and no arrow key stops at it", () => {
    const moved = view.year.oldDays.runs.find(({ became }) => became === "moved")!;
    const { node } = view.year.malthouse.runs.find(({ id }) => id === moved.id)!;
    expect(drawn).toContain(`<g class="old" data-of="${node}"`);
    expect(drawn).not.toMatch(/<g class="old"[^>]*tabindex/);
  });

  test("room is kept for the lanes only where something is told, and the drawing stays as it was otherwise", () => {
    const plain = { ...view.year, oldDays: NO_OLD_DAYS };
    const [told, not] = [layoutSection(view.year, 1310, 1e4), layoutSection(plain, 1310, 1e4)];
    expect(told.malthouse.lines[0]!.top - not.malthouse.lines[0]!.top).toBe(9);
    expect(told.height - not.height).toBe(18);
    expect(told.brews.sticks).toEqual(not.brews.sticks);
  });

  test("paper shows the plan alone", () => {
    const sheets = renderToString(<PrintPage view={view} />);
    expect(sheets).not.toContain('"old"');
    expect(sheets).not.toContain("was to be");
  });
});

describe("the words beside the switches", () => {
  const page = (one: YearView) => renderToString(<YearPage view={one} />);

  test("explain the signs that are drawn, and list every change", () => {
    const html = page(view);
    const signs = [...html.matchAll(/data-state="old (\w+)"/g)].map(([, name]) => name);
    expect(signs).toEqual(["was", "gone", "new"]);
    expect(html).toContain("All 5 in words");
    expect(count(html.slice(html.indexOf('class="old-days"')), /<li>[^<]*not planned before<\/li>/g)).toBe(2);
    const [moved] = ahead();
    const only = after({ runs: plan.runs.map((run) => run === moved ? shifted(run, 3) : run) });
    expect([...page(only).matchAll(/data-state="old (\w+)"/g)].map(([, name]) => name)).toEqual(["was"]);
    expect(page(only)).not.toContain('id="old-brews"');
  });

  test("a kind is drawn at once while it is few, and counted and drawn when asked for while it is many", () => {
    const few = page(view);
    expect(few).toMatch(/<input type="checkbox" id="old-runs" checked[^>]*\/?>3 runs/);
    expect(few).toMatch(/<input type="checkbox" id="old-brews" checked[^>]*\/?>2 brews/);
    const many = brewsAhead().slice(0, 13);
    const html = page(
      after({
        brews: plan.brews.map((one) => many.includes(one) ? { ...one, on: addDays(one.on, 1) } : one),
      }),
    );
    expect(html).toMatch(/<input type="checkbox" id="old-brews" autocomplete="off"\/?>13 brews/);
  });
});

test("a job that is next says when it was to be", () => {
  const booked = plan.runs.find(({ standing }) => standing === "booked")!;
  const html = renderToString(
    <YearPage view={after({ runs: plan.runs.map((run) => run === booked ? shifted(run, 1) : run) })} />,
  );
  const jobs = html.slice(
    html.indexOf('class="jobs"'),
    html.indexOf("</section>", html.indexOf('class="jobs"')),
  );
  expect(jobs.match(/Steep in today[^<]*<span class="quiet">; was to be steeped 19 Jan, now 18 Jan/g))
    .toHaveLength(1);
});

test("a run of which only the load is another is told in words, and has no switch", () => {
  const [run] = ahead();
  const lighter = { ...run!, cleanG: Math.round(run!.cleanG * 0.8) };
  const html = renderToString(
    <YearPage view={after({ runs: plan.runs.map((one) => one === run ? lighter : one) })} />,
  );
  expect(html).toContain("The change in words");
  expect(html).toMatch(/; was to be a load of [\d,]+ lb, now [\d,]+ lb"/);
  expect(html).not.toMatch(/old-runs|class="was"/);
});

describe("the profile of an old stair", () => {
  test("goes from the foot of the steep over every tread to the foot of the kiln, outside the stair", () => {
    const stages = [["steep", 0, 2], ["bed", 2, 6], ["kiln", 6, 7]] as const;
    const was = stages.map(([stage, start, end]) => ({ stage, start, end, vesselId: stage }));
    expect(stairProfile(was, frameOf(0, 10, 0, 100, 200), 50)).toBe(
      "M98.6 62V48.6H121.4V60.6H161.4V76.6H171.4V91",
    );
  });
});

describe("the lane over stairs and sticks", () => {
  const ends = ({ from, to }: LinkAt) => [Math.min(from, to), Math.max(from, to)] as const;

  test("two things that change places have both their hair lines, one over the other", () => {
    const { links } = laneOf([], [{ id: "a", from: 10, to: 30 }, { id: "b", from: 30, to: 10 }]);
    expect(links.map(({ id, level }) => [id, level])).toEqual([["a", 0], ["b", 1]]);
  });

  test("what has moved far is marked without a hair line", () => {
    expect(laneOf([], [{ id: "a", from: 10, to: 200 }]).links).toEqual([]);
  });

  test("a sign for what is gone and one for what is new on one day stand side by side", () => {
    const { signs } = laneOf([{ kind: "gone", x: 40 }, { kind: "new", x: 40 }], []);
    expect(signs[1]!.x - signs[0]!.x).toBeGreaterThan(4.8);
  });

  test("no hair lines cross, and none runs through a sign", () => {
    const place = integer({ min: 0, max: 400 });
    const links = array(record({ id: constantFrom("a", "b"), from: place, to: place }), { maxLength: 20 });
    const signs = array(record({ kind: constantFrom("new" as const, "gone" as const), x: place }), {
      maxLength: 5,
    });
    assert(property(signs, links, (some, wanted) => {
      const lane = laneOf(some, wanted);
      for (const [at, one] of lane.links.entries()) {
        const [left, right] = ends(one);
        for (const other of lane.links.slice(at + 1)) {
          const [from, to] = ends(other);
          const apart = right < from || to < left;
          const over = one.level > other.level ? left < from && to < right : from < left && right < to;
          expect(apart || (one.level !== other.level && over)).toBe(true);
        }
        for (const { x } of lane.signs) {
          if (one.level === 0) expect(right < x || left > x + 4.8).toBe(true);
          else for (const end of [left, right]) expect(end < x || end > x + 4.8).toBe(true);
        }
      }
    }));
  });
});
