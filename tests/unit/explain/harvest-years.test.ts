/** What bad and good harvests carry, and twenty years of weather. */
import { describe, expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import {
  carriedFrom,
  firstAwakeDay,
  harvestsToCome,
  harvestYearsOf,
  maltingHarvests,
  seasonOfKind,
} from "../../../core/explain/harvest-years.ts";
import { drawnSeason, oddsOf, WEATHER, YEARS } from "../../../core/explain/odds.ts";
import { type Resolve, Trials } from "../../../core/explain/resolve.ts";
import { monthsBetween, oddsOfYears, oddsWords, yearWords } from "../../../core/explain/year-words.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { chance } from "../../../core/search/chance.ts";
import { forecastMassG } from "../../../core/season/forecast.ts";
import type { Planting } from "../../../core/season/land.ts";
import type { Season } from "../../../core/season/season.ts";
import { drawParts, partsOf } from "../../../core/year/draw.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";
import { loadHighs } from "../../_support/highs.ts";

const demo = { ...demoSeason(), asOf: demoSeason().fixedAsOf! };
const highs = await loadHighs();

const naive: Resolve = async (season) => {
  const outcome = await makePlan(season, { seed: 1, iterations: 0, highs, asOf: season.asOf });
  return outcome.kind === "planned" ? outcome.plan : null;
};

async function collect<T>(from: AsyncIterable<T>): Promise<T[]> {
  const all: T[] = [];
  for await (const one of from) all.push(one);
  return all;
}

describe("harvests to come", () => {
  test("are those that are cut inside the days shown and not weighed yet", () => {
    const years = harvestsToCome(demo).map((one) => one.harvestYear);
    expect(years.length).toBeGreaterThan(3);
    expect(new Set(years)).toEqual(new Set([2027]));
    const awake = ["winter-barley-2027", "spring-barley-2027", "wheat-2027", "rye-2027"].map((id) => {
      const { harvest, restAfterHarvestDays } = demo.plantings.find((one) => one.id === id)!;
      return dayNumber(harvest.likely) + restAfterHarvestDays.early;
    });
    expect(firstAwakeDay(demo)).toBe(Math.min(...awake));
    expect(maltingHarvests(demo).map((one) => one.crop)).not.toContain("oats");
    expect(harvestsToCome({ ...demo, horizonEnd: "2027-07-15" }).map((one) => one.crop)).toEqual(["barley"]);
    expect(firstAwakeDay({ ...demo, plantings: [] })).toBeNull();
  });

  test("of a bad and a good year weigh what their plantings say, and what has come stays", () => {
    for (const kind of ["bad", "likely", "good"] as const) {
      const season = seasonOfKind(demo, kind);
      season.plantings.forEach((planting, at) => {
        const was = demo.plantings[at]!;
        if (was.harvestYear < 2027) expect(planting).toEqual(was);
        else expect(planting.yieldKgPerHa.likely).toBe(was.yieldKgPerHa[kind]);
      });
    }
    const massG = (season: Season) =>
      harvestsToCome(season).reduce((sum, one) => sum + forecastMassG(one), 0);
    expect(massG(seasonOfKind(demo, "bad"))).toBeLessThan(massG(demo));
    expect(massG(seasonOfKind(demo, "good"))).toBeGreaterThan(massG(demo));
  });
});

describe("what a plan carries", () => {
  test("is each brew from the harvest on by its home share after its losses, and the days of those that go short", async () => {
    const plan = (await naive(demo))!;
    const from = firstAwakeDay(demo)!;
    const { homeL, shortDays, lastsToDay } = carriedFrom(demo, plan, from);
    const here = drawParts(partsOf(demo, plan)).brews.filter((one) => !one.tail && one.wantedDay >= from);
    let litres = 0;
    for (const brew of here) {
      let out = brew.volumeL * brew.homeShare;
      for (const { share } of demo.beers.find((one) => one.id === brew.beerId)!.losses) out *= 1 - share;
      litres += out;
    }
    expect(homeL).toBeCloseTo(litres, 6);
    expect(lastsToDay).toBeGreaterThan(dayNumber(demo.horizonEnd));
    const short = here.filter((one) => one.standing === "unbrewed" || !one.promiseHeld && one.promise > 0);
    expect(shortDays).toEqual(short.map((one) => one.wantedDay).sort((a, b) => a - b));
    // Nothing is brewed in an empty plan, so every brew goes short.
    const nothing = carriedFrom(demo, { ...await emptyPlan(demo), unbrewed: unbrewedOf(demo) }, from);
    expect([nothing.homeL, nothing.leftL, nothing.lastsToDay]).toEqual([0, 0, null]);
    expect(nothing.shortDays.length).toBe(here.length);
  });

  test("is beyond the days shown what barley, most malted, would make at the pace of all brews asked for", async () => {
    const plan = (await naive(demo))!;
    const { leftL, lastsToDay } = carriedFrom(demo, plan, firstAwakeDay(demo)!);
    const parts = partsOf(demo, plan), year = drawParts(parts);
    const end = dayNumber(demo.horizonEnd), today = dayNumber("2027-01-18");
    const sum = (of: readonly number[]) => of.reduce((all, one) => all + one, 0);
    const barley = new Set(
      demo.lots.filter((lot) => lot.crop === "barley" && lot.use === "malting").map((lot) => lot.id),
    );
    const runs = [...demo.records.runs, ...plan.runs].filter((run) =>
      barley.has(run.draws[0]!.lotId) && run.outputs.length > 0
    );
    const yieldOfMalt = sum(runs.flatMap((run) => run.outputs.map((one) => one.massG))) /
      sum(runs.flatMap((run) => run.draws.map((one) => one.massG)));
    expect(yieldOfMalt).toBeGreaterThan(0.7);
    expect(yieldOfMalt).toBeLessThan(0.9);
    const grainG = sum([...barley].map((id) => parts.grain.at(id, end)));
    const held = demo.opening.malt.filter((one) => one.home && one.lotIds.some((id) => barley.has(id)));
    const batches = new Set([
      ...runs.flatMap((run) => run.outputs.map((one) => one.batchId)),
      ...held.map((one) => one.id),
    ]);
    const maltG = sum(
      [...parts.malt].filter(([id]) => batches.has(id))
        .map(([, series]) => Math.max(0, series[end - parts.journal.firstDay]!)),
    );
    const usedG = sum(
      plan.brews.filter((one) => one.on <= demo.horizonEnd).flatMap((one) =>
        one.grist.flatMap(({ from, massG }) =>
          from.kind === "batch" && batches.has(from.batchId) ? [massG] : []
        )
      ),
    );
    const days = end - today + 1;
    // All brews are made, so that the pace asked for is the plan's.
    expect(lastsToDay).toBe(end + Math.floor((grainG * yieldOfMalt + maltG) / (usedG / days)));
    const litres = sum(
      year.brews.filter((one) => !one.tail && one.wantedDay >= today).map((one) =>
        one.homeShare * demo.beers.find((beer) => beer.id === one.beerId)!.losses.reduce(
          (left, { share }) => left * (1 - share),
          one.volumeL,
        )
      ),
    );
    expect(leftL).toBeCloseTo((grainG * yieldOfMalt + maltG) / usedG * litres, 3);
  });

  test("of a plan that brews next to nothing is reckoned at the pace of what is asked, and three years at most", async () => {
    const plan = (await naive(demo))!;
    const from = firstAwakeDay(demo)!;
    const last = plan.brews.findLast((one) => one.on <= demo.horizonEnd)!;
    const rest = plan.brews.filter((one) => one !== last);
    const one = {
      ...plan,
      brews: [last],
      unbrewed: rest.map(({ id, beerId }) => ({
        id,
        beerId,
        cause: "no malt in time" as const,
        why: "no malt",
      })),
    };
    const { leftL, lastsToDay, shortDays } = carriedFrom(demo, one, from);
    expect(shortDays.length).toBeGreaterThan(10);
    expect(lastsToDay).toBeNull();
    const asked = carriedFrom(demo, plan, from);
    const days = dayNumber(demo.horizonEnd) - dayNumber("2027-01-18") + 1;
    const paceL = asked.leftL / (asked.lastsToDay! - dayNumber(demo.horizonEnd));
    expect(leftL / paceL).toBeLessThan(3 * 365 * 1.3);
    expect(days).toBeGreaterThan(300);
  });

  test("is no more in a bad year than in a likely or good one", async () => {
    const reference = (await naive(demo))!;
    const trials = await Trials.open(demo, reference, naive);
    const years = await collect(harvestYearsOf(trials));
    expect(years.map((one) => one.kind)).toEqual(["bad", "likely", "good"]);
    const [bad, likely, good] = years as [typeof years[0], typeof years[0], typeof years[0]];
    expect(bad.cutG).toBeLessThan(likely.cutG);
    expect(likely.cutG).toBeLessThan(good.cutG);
    expect(bad.homeL).toBeLessThan(likely.homeL);
    // Here more grain brings next to nothing: the bed is full.
    expect(good.homeL).toBeGreaterThan(likely.homeL - 1);
    const words = yearWords(demo, bad);
    const count = (text: string) => Number(text.replaceAll(",", ""));
    expect(Math.abs(count(words.shown) - bad.homeL / 0.473176473)).toBeLessThanOrEqual(50);
    expect(Math.abs(count(words.pints) - (bad.homeL + bad.leftL) / 0.473176473)).toBeLessThanOrEqual(50);
    // What is left after a good year lasts for longer, as far as the bins hold it.
    expect(bad.leftL).toBeLessThan(likely.leftL);
    expect(bad.lastsToDay!).toBeLessThan(likely.lastsToDay!);
    // The oats that find no room are for the mash, and not counted.
    expect([bad.noRoomG, likely.noRoomG]).toEqual([0, 0]);
    expect(likely.noRoomG).toBeLessThan(good.noRoomG);
    expect(yearWords(demo, good).noRoom).toMatch(/^\d+\.\d t$/);
    expect(yearWords(demo, { ...good, noRoomG: 0 }).noRoom).toBe("");
    const short = (shortDays: number[]) => yearWords(demo, { ...bad, shortDays }).short;
    expect(short([])).toBe("all made as promised");
    expect(short([dayNumber("2027-10-04")])).toBe("1 brew short, the first in Oct 2027");
    expect(short([dayNumber("2027-10-04"), dayNumber("2027-11-04")])).toMatch(
      /^2 brews short, the first in Oct/,
    );
  });
});

function unbrewedOf(season: Season): Plan["unbrewed"] {
  return season.brews.map(({ id, beerId }) => ({
    id,
    beerId,
    cause: "no malt in time" as const,
    why: "no malt",
  }));
}

describe("twenty years of weather", () => {
  test("are the middles of twenty equal parts of the normal distribution", () => {
    expect(WEATHER).toHaveLength(YEARS);
    // The distribution function by its own integral, in steps of a thousandth.
    const below = (z: number) => {
      let area = 0;
      for (let x = -8; x < z; x += 0.001) area += Math.exp(-((x + 0.0005) ** 2) / 2) * 0.001;
      return area / Math.sqrt(2 * Math.PI);
    };
    WEATHER.forEach((z, at) => expect(below(z)).toBeCloseTo((at + 0.5) / YEARS, 3));
  });

  const planting = demo.plantings.find((one) => one.id === "winter-barley-2027")!;
  const of = (season: Season) => season.plantings.find((one) => one.id === planting.id)!;
  const drawn = (count: number): Planting[] => {
    const luck = chance(7);
    return Array.from({ length: count }, (_, at) => of(drawnSeason(demo, WEATHER[at % YEARS]!, luck)));
  };

  test("one in ten yields is below bad and one above good, one in ten harvests early and two late", () => {
    const all = drawn(4000);
    const share = (holds: (one: Planting) => boolean) => all.filter(holds).length / all.length;
    const { bad, good } = planting.yieldKgPerHa;
    expect(share((one) => one.yieldKgPerHa.likely < bad)).toBeCloseTo(0.1, 1);
    expect(share((one) => one.yieldKgPerHa.likely > good)).toBeCloseTo(0.1, 1);
    expect(Math.abs(share((one) => one.harvest.likely < planting.harvest.early) - 0.1)).toBeLessThan(0.04);
    expect(Math.abs(share((one) => one.harvest.likely > planting.harvest.late) - 0.2)).toBeLessThan(0.05);
  });

  test("leave what has come and what is known of other things as they are, and are the same each time", () => {
    const season = drawnSeason(demo, -1, chance(1));
    expect(season).toEqual(drawnSeason(demo, -1, chance(1)));
    expect({ ...season, plantings: [] }).toEqual({ ...demo, plantings: [] });
    for (const [at, was] of demo.plantings.entries()) {
      if (was.harvestYear < 2027) expect(season.plantings[at]).toEqual(was);
    }
    for (const one of drawn(200)) {
      expect(one.yieldKgPerHa.likely).toBeGreaterThanOrEqual(0);
      expect(one.restAfterHarvestDays.late).toBeGreaterThanOrEqual(0);
    }
  });

  test("fields share most of their weather", () => {
    const luck = chance(3);
    const pairs = Array.from({ length: 2000 }, (_, at) => {
      const season = drawnSeason(demo, WEATHER[at % YEARS]!, luck);
      return ["winter-barley-2027", "wheat-2027"].map((id) => {
        const was = demo.plantings.find((one) => one.id === id)!.yieldKgPerHa.likely;
        return season.plantings.find((one) => one.id === id)!.yieldKgPerHa.likely > was;
      });
    });
    // Of two normal deviates with correlation 0.7 both lie on one side in 1/2 + asin(0.7)/pi of cases (Sheppard 1899).
    const agree = pairs.filter(([one, other]) => one === other).length / pairs.length;
    expect(agree).toBeCloseTo(0.5 + Math.asin(0.7) / Math.PI, 1);
  });

  test("are each planned, and tell in how many brews go short, and when first", async () => {
    const plan = (await naive(demo))!;
    const planned: Season[] = [];
    const resolve: Resolve = (season) => {
      planned.push(season);
      return Promise.resolve(plan);
    };
    const trials = await Trials.open(demo, plan, resolve);
    planned.length = 0;
    const years = await collect(oddsOf(trials));
    expect(planned).toHaveLength(YEARS);
    expect(years).toHaveLength(YEARS);
    expect(years.every((one) => one.isPlanned)).toBe(true);
    const odds = oddsOfYears(demo, years)!;
    expect(odds.firstShortDays).toEqual(years.map((one) => one.firstShortDay));
    expect(odds.unplanned).toBe(0);
    // Bad and good years take turns, and each is drawn once.
    const cut = planned.map((season) =>
      harvestsToCome(season).reduce((sum, one) => sum + forecastMassG(one), 0)
    );
    expect(new Set(cut).size).toBe(YEARS);
    const mean = (of: readonly number[]) => of.reduce((sum, one) => sum + one, 0) / of.length;
    expect(Math.abs(mean(cut.slice(0, 10)) / mean(cut) - 1)).toBeLessThan(0.1);
    const without = await Trials.open(demo, plan, (season) => Promise.resolve(season === demo ? plan : null));
    const none = await collect(oddsOf(without));
    expect(none.every((one) => one.firstShortDay === firstAwakeDay(demo) && !one.isPlanned)).toBe(true);
    expect(oddsOfYears({ ...demo, plantings: [] }, [])).toBeNull();
    expect(await collect(oddsOf(await Trials.open({ ...demo, plantings: [] }, plan, resolve)))).toEqual([]);
  });

  test("in words: how many of twenty, and the month in which most begin", () => {
    const [sep, oct] = [dayNumber("2027-09-10"), dayNumber("2027-10-03")];
    const odds = (firstShortDays: (number | null)[], of = firstShortDays.length) =>
      oddsWords({ of, firstShortDays, unplanned: 0, fromDay: 0, toDay: 1 });
    expect(odds([null, null])).toBe("In none of 2 years.");
    expect(oddsWords({ of: 2, firstShortDays: [sep, null], unplanned: 1, fromDay: 0, toDay: 1 }))
      .toBe("In 1 of 2 years, 1 of which found no plan and count as short: first in Sep 2027.");
    expect(odds([sep, null])).toBe("In 1 of 2 years: first in Sep 2027.");
    expect(odds([sep, sep])).toBe("In 2 of 2 years: always first in Sep 2027.");
    expect(odds([sep, oct, oct], 20)).toBe(
      "In 3 of 20 years, as far as 3 of them are planned: 2 of them first in Oct 2027.",
    );
    expect(monthsBetween(dayNumber("2027-11-30"), dayNumber("2028-01-01")).map((one) => one.from)).toEqual(
      ["2027-11-01", "2027-12-01", "2028-01-01"].map(dayNumber),
    );
  });
});
