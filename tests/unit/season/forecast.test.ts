import { describe, expect, test } from "vitest";
import { addDays, dayNumber } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { forecastFills, forecastMassG } from "../../../core/season/forecast.ts";
import type { Planting } from "../../../core/season/land.ts";
import type { Season } from "../../../core/season/season.ts";

/** A micro season whose second lot is still to come in the asked way. */
function toCome(how: "harvested" | "bought"): Season {
  for (let seed = 0;; seed++) {
    const season = microSeason(seed, "bins");
    if ((season.plantings.length > 0) === (how === "harvested")) return season;
  }
}
const harvested = toCome("harvested");
const planting = harvested.plantings[0]!;
const today = harvested.asOf.slice(0, 10);
const withPlanting = (more: Partial<Planting>): Season => ({
  ...harvested,
  plantings: [{ ...planting, ...more }],
});

describe("weight of a harvest", () => {
  test("is cut, less handling, dried with its dry matter kept, less intake cleaning: a case by hand", () => {
    // 2 ha x 5,000 kg = 10,000 kg at 16 %; 0.5 % lost: 9,950 kg, 8,358 kg dry; at 12 %: 9,497.727 kg; 2 % cleaned out.
    const field: Planting = {
      ...planting,
      areaM2: 20_000,
      yieldKgPerHa: { bad: 1, likely: 5000, good: 9000 },
      moistureAtHarvestWb: 0.16,
      dryToWb: 0.12,
      handlingLoss: 0.005,
      intakeCleaningLoss: 0.02,
    };
    expect(forecastMassG(field)).toBe(9_307_773);
  });

  test("grain that is drier already is left as it is", () => {
    const dry = { ...planting, moistureAtHarvestWb: 0.11, handlingLoss: 0, intakeCleaningLoss: 0 };
    expect(forecastMassG(dry)).toBe(Math.round(dry.areaM2 / 10 * dry.yieldKgPerHa.likely));
  });
});

describe("grain to come", () => {
  test("a harvest comes on its likely day into its lot", () => {
    expect(forecastFills(harvested, harvested.asOf)).toEqual([{
      lotId: "lot-two",
      day: dayNumber(planting.harvest.likely),
      massG: forecastMassG(planting),
      plantingIds: ["planting"],
    }]);
  });

  test.each([[0, 0], [-1, 1], [-30, 1]])(
    "likely %i days from as-of, it comes %i days from as-of",
    (likely, comes) => {
      const season = withPlanting({ harvest: { ...planting.harvest, likely: addDays(today, likely) } });
      expect(forecastFills(season, season.asOf)[0]?.day).toBe(dayNumber(today) + comes);
    },
  );

  test("several plantings of a lot and a day come as one", () => {
    const season = { ...harvested, plantings: [planting, { ...planting, id: "other" }] };
    expect(forecastFills(season, season.asOf)).toMatchObject([
      { massG: 2 * forecastMassG(planting), plantingIds: ["planting", "other"] },
    ]);
  });

  test("what is lost, weighed or after the plan's end does not come", () => {
    for (const state of ["harvested", "lost"] as const) {
      expect(forecastFills(withPlanting({ state }), harvested.asOf)).toEqual([]);
    }
    const late = addDays(harvested.horizonEnd, 85);
    expect(forecastFills(withPlanting({ harvest: { ...planting.harvest, likely: late } }), harvested.asOf))
      .toEqual([]);
    const weighed = harvested.lots.map((lot) => ({ ...lot, forecast: false }));
    expect(forecastFills({ ...harvested, lots: weighed }, harvested.asOf)).toEqual([]);
  });

  test("a contract brings its lot on its day, once", () => {
    const season = toCome("bought");
    const contract = season.contracts[0]!;
    if (contract.kind !== "buy-grain") throw new Error("the generator promises a contract for grain");
    expect(forecastFills(season, season.asOf)).toEqual([{
      lotId: "lot-two",
      day: dayNumber(contract.on),
      massG: contract.massG,
      plantingIds: [],
      contractId: contract.id,
    }]);
    const onTheDay = `${contract.on}T18:00`;
    expect(forecastFills(season, onTheDay)).toHaveLength(1);
    const fill = { id: "came", on: contract.on, lotId: "lot-two", storeId: "bin-two", massG: contract.massG };
    expect(forecastFills({ ...season, records: { ...season.records, fills: [fill] } }, onTheDay)).toEqual([]);
    expect(forecastFills(season, `${addDays(contract.on, 1)}T06:00`)).toEqual([]);
  });
});
