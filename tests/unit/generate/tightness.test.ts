import { describe, expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import { bindingLimits, tightnessOf } from "../../../core/generate/tightness.ts";
import { type SeasonFile, seasonSchema } from "../../../core/season/season.ts";
import { bareSeason } from "../../_support/bare-season.ts";

/** A Monday, in a zone without clock changes. */
const TODAY = "2027-01-18";
const day = (after: number) => addDays(TODAY, after);
const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];
const loadLimits = [{ crop: "barley" as const, leastG: 100_000, greatestG: 1_000_000 }];
const stage = (hours: number) => ({ least: hours, usual: hours, greatest: hours });

/** One malt, 48 + 96 + 24 hours, ten days of rest, 0.8 g from a gram of clean grain; 4 t of it are sold on day 70. */
const farm: SeasonFile = {
  ...bareSeason,
  zone: "UTC",
  positionAt: `${TODAY}T07:00`,
  asOf: `${TODAY}T07:00`,
  fixedAsOf: undefined,
  horizonEnd: day(200),
  lots: [{
    id: "lot",
    letter: "A",
    name: "The lot",
    crop: "barley",
    varietyClass: "malting",
    harvestYear: 2026,
    origin: "own",
    formedOn: day(-150),
    moistureWb: 0.125,
    testWeightKgPerHl: 60,
    analyses: [{ id: "test", sampledOn: day(-9), resultOn: day(-5), germinativeEnergy: 0.97 }],
    use: "malting",
  }],
  stores: [{
    kind: "bin",
    id: "bin",
    name: "Bin",
    shape: { kind: "volume", volumeL: 20_000 },
    monthTempC: Array.from({ length: 12 }, () => 8),
  }],
  vessels: (["steep", "bed", "kiln"] as const).map((one) => ({
    id: one,
    name: one,
    stages: [one],
    loadLimits,
    cleaningHours: 4,
  })),
  roster: {
    weekly: [
      { weekdays: [1], from: "07:00", to: "09:00", handOvers: ["steepIn"] },
      { weekdays: EVERY_DAY, from: "07:00", to: "09:00", handOvers: ["castToBed", "kilnLoading", "strip"] },
    ],
    heldDays: 0,
  },
  maltTypes: [{
    id: "pale",
    name: "Pale",
    made: {
      from: "grain",
      crops: ["barley"],
      acceptance: {},
      profiles: [{ id: "week", name: "A week", steep: stage(48), bed: stage(96), kiln: stage(24) }],
      screeningLoss: 0,
      steepLossDm: 0.1,
      respirationLossDm: 0.05,
      rootletLossDm: 0.05,
      runCents: 0,
    },
    maltMoistureWb: 0.125,
    extractCoarseDb: 0.8,
    restDays: 10,
    shelfLifeDays: 365,
  }],
  maltStore: { places: 8, placeG: 1_000_000 },
  contracts: [{
    kind: "sell-malt",
    id: "sale",
    party: "A made customer",
    maltId: "pale",
    massG: 4_000_000,
    from: day(60),
    to: day(70),
    perTonneCents: 0,
    class: 1,
  }],
  opening: { grain: [{ lotId: "lot", storeId: "bin", massG: 10_000_000 }] },
};

const tightness = (changes: Partial<SeasonFile> = {}) =>
  tightnessOf(seasonSchema.parse({ ...farm, fixedAsOf: farm.asOf, ...changes }));

/** 4 t of malt are 5 t of clean grain. */
describe("need by capacity, counted by hand", () => {
  const tight = tightness();

  test("of a vessel: tonne-hours asked by tonne-hours open between the first and the last run", () => {
    // Beds are free from day 2, when the first steep is over, to day 59: 10 days of rest and one on the kiln before day 70.
    expect(tight.bed).toBeCloseTo(5 * (96 + 4) / (57 * 24), 6);
    expect(tight.steep).toBeCloseTo(5 * (48 + 4) / (55 * 24), 6);
    expect(tight.kiln).toBeCloseTo(5 * (24 + 4) / (54 * 24), 6);
  });

  test("of the people: Mondays from which malt is ready in time", () => {
    // Started on days 0, 7, ... 49, stripped a week later, ready on day 66 at the latest.
    expect(tight.hands).toBeCloseTo(5 / 8, 6);
    expect(tight.together).toBeCloseTo(5 / 8, 6);
  });

  test("of grain, and of places for malt that rests", () => {
    expect(tight.grain).toBeCloseTo(5 / 10, 6);
    expect(tight.store).toBeCloseTo(4 / 8, 6);
    expect([tight.bins, tight.tanks]).toEqual([0, 0]);
    expect(bindingLimits(tight)).toEqual([]);
  });

  test("of bins: grain that comes has to lie somewhere until it is steeped", () => {
    const harvested = tightness({
      fields: [{ id: "field", name: "Field", areaM2: 20_000 }],
      plantings: [{
        id: "planting",
        fieldIds: ["field"],
        areaM2: 20_000,
        crop: "barley",
        varietyClass: "malting",
        sowingSeason: "spring",
        harvestYear: 2027,
        state: "sown",
        drillOn: day(-120),
        yieldKgPerHa: { bad: 3000, likely: 4000, good: 5000 },
        moistureAtHarvestWb: 0.125,
        harvest: { early: day(18), likely: day(20), late: day(24) },
        dryToWb: 0.125,
        handlingLoss: 0,
        intakeCleaningLoss: 0,
        testWeightKgPerHl: 60,
        restAfterHarvestDays: { early: 5, likely: 8, late: 10 },
        lotId: "lot",
      }],
      lots: farm.lots!.map((lot) => ({ ...lot, forecast: true, analyses: [] })),
      opening: {},
    });
    // 5 t steeped on day 53, in a bin for 12 t; of the 8 t that come they are five eighths.
    expect(harvested.bins).toBeCloseTo(5 / 12, 6);
    expect(harvested.grain).toBeCloseTo(5 / 8, 6);
  });

  test("of tanks: brews a week apart that hold a tank for three", () => {
    const brews = Array.from({ length: 10 }, (_, at) => ({
      id: `brew-${at}`,
      beerId: "beer",
      on: day(7 * at),
      earliest: day(7 * at),
      latest: day(7 * at),
      class: 1,
    }));
    const tank = (id: string) => ({ id, name: id, volumeL: 1000, turnaroundDays: 1 });
    const beer = {
      id: "beer",
      name: "Beer",
      letter: "b",
      gravityP: 12,
      volumeL: 1000,
      brewhouseEfficiency: 0.85,
      tankDays: 20,
      grist: [],
    };
    const cellar = tightness({ contracts: [], beers: [beer], brews, tanks: [tank("one"), tank("two")] });
    expect(cellar.tanks).toBeCloseTo(10 * 21 / (2 * (63 + 21)), 6);
    expect(bindingLimits(cellar)).toEqual(["tanks"]);
  });

  test("grows beyond all bounds where there is none", () => {
    expect(tightness({ opening: {} }).grain).toBe(Infinity);
    const closed = [{ from: day(-1), to: day(300), handOvers: ["steepIn" as const], reason: "Nobody" }];
    expect(tightness({ roster: { ...farm.roster, closed } }).hands).toBe(Infinity);
  });
});

test("malt that is there, or in the vessels, need not be made", () => {
  const batch = {
    id: "old",
    ingredient: { kind: "malt" as const, maltId: "pale" },
    massG: 2_000_000,
    home: true,
    madeOn: day(-40),
    readyOn: day(-30),
    bestBefore: day(300),
    extractAsIs: 0.7,
  };
  const opening = { ...farm.opening, malt: [batch] };
  expect(tightness({ opening }).grain).toBeCloseTo(2.5 / 10, 6);
  expect(tightness({ opening: { ...farm.opening, malt: [{ ...batch, home: false }] } }).grain).toBeCloseTo(
    0.5,
    6,
  );
});

test("two lines carry twice as much, and a closed vessel nothing", () => {
  const second = farm.vessels!.map((vessel) => ({ ...vessel, id: `${vessel.id}-2` }));
  const alone = tightness(), both = tightness({ vessels: [...farm.vessels!, ...second] });
  for (const limit of ["steep", "bed", "kiln", "hands", "together"] as const) {
    expect(both[limit]).toBeCloseTo(alone[limit] / 2, 6);
  }
  const shut = farm.vessels!.map((vessel) =>
    vessel.id === "kiln"
      ? { ...vessel, closures: [{ from: `${day(6)}T00:00`, to: `${day(33)}T00:00`, reason: "Repair" }] }
      : vessel
  );
  expect(tightness({ vessels: shut }).kiln).toBeCloseTo(2 * alone.kiln, 6);
});
