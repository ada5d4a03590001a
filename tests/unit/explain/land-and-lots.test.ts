import { describe, expect, test } from "vitest";
import { type AcreValue, acreValues } from "../../../core/explain/acre.ts";
import { acreWords, failingWords } from "../../../core/explain/answer-words.ts";
import { type Failing, failingOf, lotsToCome } from "../../../core/explain/failing.ts";
import type { Priced } from "../../../core/explain/remedies.ts";
import { planningOnce, Trials } from "../../../core/explain/resolve.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

const demo = demoSeason();
const base = await emptyPlan(demo);
const made = (brews: number, moneyCents = 0): Plan => ({
  ...base,
  goals: { ...base.goals, made: [brews, 0, 0], asked: [20, 0, 0], promisesHeld: brews, moneyCents },
});
const all = async <T>(generator: AsyncGenerator<T>): Promise<T[]> => {
  const rows: T[] = [];
  for await (const one of generator) rows.push(one);
  return rows;
};
const trials = (resolve: (season: Season) => Plan | null) =>
  Trials.open(demo, made(6), (season) => Promise.resolve(resolve(season)));

describe("one more acre", () => {
  const area = (season: Season) => season.plantings.find((one) => one.id === "spring-barley-2027")!.areaM2;
  const priced = {
    id: "area-spring-barley-2027-1",
    isNoise: false,
    gain: { brews: 1, promises: 0, homeMaltG: 0, roomG: 0, moneyCents: 0 },
  } as unknown as Priced;
  /** Each square metre more brings ten cents. */
  const values = async (rows: readonly Priced[]) =>
    await all(acreValues(
      await trials((season) => made(6, -10 * (area(season) - area(demo)))),
      rows,
    ));

  test("is planned anew with a bad and a good year's yield, where it brings anything", async () => {
    const [barley] = await values([priced]);
    const { bad, likely, good } = barley!.planting.yieldKgPerHa;
    expect(barley!.money!.bad).toBeCloseTo(40_469 * bad / likely, -1);
    expect(barley!.money!.good).toBeCloseTo(40_469 * good / likely, -1);
    expect(acreWords(demo, barley!, ["kiln"]).words).toMatch(
      /^1 more brew; \d+ to \d+ USD an acre in money$/,
    );
  });

  test("is nothing while another limit binds, but for what its grain fetches as feed", async () => {
    const rows = await values([]);
    expect(rows.map((one) => one.planting.id)).toEqual(["spring-barley-2027", "oats-2027"]);
    const barley = rows[0] as AcreValue;
    expect(barley.money).toBe(null);
    const told = acreWords(demo, barley, ["kiln"]);
    expect([told.what, told.words]).toEqual([
      "One more acre of spring barley",
      "nothing while the kiln is the limit",
    ]);
    expect(acreWords(demo, barley, []).words).toBe("nothing measurable");
    // Spring barley, 165.00 a tonne: a bad year's tonnes an acre to a good one's.
    const tonnes = (yieldKgPerHa: number) => yieldKgPerHa * 0.404_686 / 1000;
    expect(barley.feed!.good).toBeLessThan(16_500 * tonnes(barley.planting.yieldKgPerHa.good));
    expect(barley.feed!.good).toBeGreaterThan(0.85 * 16_500 * tonnes(barley.planting.yieldKgPerHa.good));
    expect(barley.feed!.bad).toBeLessThan(barley.feed!.good);
    const metric = { ...demo, readerUnits: "metric" as const };
    expect(acreWords(metric, barley, []).feed).toMatch(/ USD a hectare$/);
  });
});

describe("a lot that fails the laboratory", () => {
  const isFeed = (season: Season, id: string) => season.lots.find((one) => one.id === id)?.use === "feed";

  test("the largest malting lots to come are tried one by one, and a loss is told as one", async () => {
    const tried = await all(
      failingOf(await trials((season) => isFeed(season, "lot-g") ? made(4, 500) : made(6))),
    );
    expect(lotsToCome(demo).map(({ lot }) => lot.id)).toEqual(["lot-h", "lot-g", "lot-j", "lot-k"]);
    expect(tried.map((one) => [one.lot.id, one.gain.brews])).toEqual([["lot-h", 0], ["lot-g", -2], [
      "lot-j",
      0,
    ]]);
    expect(failingWords(demo, tried[0]!).words).toBe("nothing is lost");
    const told = failingWords(demo, tried[1] as Failing);
    expect(told.what).toMatch(/^G winter barley, about 2\d\.\d t$/);
    expect(told.words).toBe("2 fewer brews and 2 fewer home-share promises held");
    expect(told.money).toBe("5 USD dearer");
  });
});

test("the season as it stands is planned once, others each time", async () => {
  const asked: Season[] = [];
  const resolve = planningOnce((season) => {
    asked.push(season);
    return Promise.resolve(made(6));
  }, demo);
  const other = { ...demo };
  for (const season of [demo, other, demo, other]) await resolve(season);
  expect(asked).toEqual([demo, other, other]);
});
