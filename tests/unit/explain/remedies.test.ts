import { describe, expect, test } from "vitest";
import { firmUp, type Priced, priceRemedies, ranked } from "../../../core/explain/remedies.ts";
import { withPlaces } from "../../../core/explain/relax.ts";
import { type Resolve, Trials } from "../../../core/explain/resolve.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

const NOTHING = { brews: 0, promises: 0, homeMaltG: 0, roomG: 0, moneyCents: 0 };
const priced = (id: string, gain: Partial<Priced["gain"]>, more: Partial<Priced> = {}): Priced => ({
  id,
  words: id,
  costCents: null,
  costWords: "",
  gain: { ...NOTHING, ...gain },
  beers: [],
  isNoise: false,
  hazards: [],
  trial: null,
  isFirm: false,
  ...more,
});

describe("the order of remedies", () => {
  test("brews, then promises, then money less the cost; then nothing measurable, and what loses brews last", () => {
    const rows = ranked([
      priced("fewer", { brews: -1, promises: 4 }),
      priced("none", {}, { isNoise: true }),
      priced("dear", { moneyCents: 900 }, { costCents: 800 }),
      priced("cheap", { moneyCents: 500 }, { costCents: 100 }),
      priced("brews", { brews: 2 }),
      priced("promises", { promises: 3 }),
    ]);
    expect(rows.map((one) => one.id)).toEqual(["brews", "promises", "cheap", "dear", "none", "fewer"]);
  });

  test("a rank holds to the cost at which the one behind it is as good; whatever it costs where it makes more", () => {
    const [first, second, third] = ranked([
      priced("a", { brews: 1 }),
      priced("b", { moneyCents: 900 }),
      priced("c", { moneyCents: 500 }, { costCents: 100 }),
    ]);
    expect([first?.holdsToCents, second?.holdsToCents, third?.holdsToCents]).toEqual([null, 500, null]);
    expect([first?.paysToCents, second?.paysToCents]).toEqual([0, 900]);
  });
});

describe("pricing", async () => {
  const demo = demoSeason();
  const base = await emptyPlan(demo);
  const made = (brews: number): Plan => ({
    ...base,
    goals: { ...base.goals, made: [brews, 0, 0], asked: [20, 0, 0], promisesHeld: brews },
  });
  const causes = { tightest: null, byShortfall: [], tried: [{ limit: "tanks" as const, gain: NOTHING }] };
  const found = async (resolve: (season: Season) => Plan | null) => {
    const rows: Priced[] = [];
    const solve: Resolve = (season) => Promise.resolve(resolve(season));
    for await (const one of priceRemedies(demo, made(6), [], causes, solve)) rows.push(one);
    return rows;
  };
  const places = (season: Season) => season.maltStore.places - demo.maltStore.places;

  test("larger sizes follow while each brings more than the one before", async () => {
    const rows = await found((season) => made(6 + Math.min(2, places(season))));
    const store = rows.filter((one) => one.id.startsWith("malt-places"));
    expect(store.map((one) => [one.id, one.gain.brews])).toEqual([["malt-places-1", 1], [
      "malt-places-2",
      2,
    ]]);
  });

  test("a larger size never does worse than a smaller one, however it is planned", async () => {
    const trials = await Trials.open(
      demo,
      made(6),
      (season) => Promise.resolve(made(6 + places(season) % 2)),
    );
    const one = await trials.of(withPlaces(demo, 1));
    expect((await trials.of(withPlaces(demo, 2), one.plan)).gain.brews).toBe(1);
    expect((await trials.of(withPlaces(demo, 2))).gain.brews).toBe(0);
  });

  test("what is gained is measured from the season planned once more in full", async () => {
    const trials = await Trials.open(
      demo,
      made(6),
      (season, _, effort) => Promise.resolve(made(season === demo && effort === "full" ? 8 : 9)),
    );
    expect((await trials.of(withPlaces(demo, 1))).gain.brews).toBe(1);
  });

  test("where the limit taken away brought nothing, the step is told as nothing and not planned", async () => {
    const asked: Season[] = [];
    const rows = await found((season) => {
      asked.push(season);
      return made(6);
    });
    expect(rows.find((one) => one.id === "more-tank-1")).toMatchObject({ isNoise: true, gain: NOTHING });
    expect(asked.every((season) => season.tanks.length === demo.tanks.length)).toBe(true);
  });

  describe("the best are planned in full", () => {
    /** Remedies that seem to bring so many brews with a short search, and bring what `inFull` says. */
    const firmed = async (seeming: Record<string, number>, inFull: Record<string, number>) => {
      const asked: string[] = [];
      const seasons = new Map(Object.keys(seeming).map((id) => [id, { ...demo, name: id }]));
      const trials = await Trials.open(demo, made(6), (season, _, effort) => {
        if (effort === "full" && season !== demo) asked.push(season.name);
        return Promise.resolve(made(6 + (effort === "full" ? inFull[season.name] ?? 0 : 0)));
      });
      const rows = Object.entries(seeming).map(([id, brews]) =>
        priced(id, { brews }, {
          isNoise: brews === 0,
          trial: {
            ...{ season: seasons.get(id)!, plan: made(6 + brews) },
            gain: { ...NOTHING, brews, promises: brews },
          },
        })
      );
      const firm: Priced[] = [];
      for await (const one of firmUp(trials, rows)) firm.push(one);
      return { asked, firm: firm.map(({ id, gain, isFirm }) => [id, gain.brews, isFirm]) };
    };

    test("three of them, and none that brings nothing", async () => {
      const { asked, firm } = await firmed({ a: 4, b: 3, c: 2, d: 1, none: 0 }, { a: 5, b: 3, c: 2 });
      expect(asked).toEqual(["a", "b", "c"]);
      expect(firm).toEqual([["a", 5, true], ["b", 3, true], ["c", 2, true]]);
      expect((await firmed({ a: 1, none: 0 }, { a: 1 })).asked).toEqual(["a"]);
    });

    test("never worse than the short search had it", async () => {
      expect((await firmed({ a: 4 }, { a: 1 })).firm).toEqual([["a", 4, true]]);
    });
  });
});
