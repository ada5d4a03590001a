import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { boundOf } from "../../../core/bound/bound.ts";
import { addDays } from "../../../core/calendar.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { gristNeed } from "../../../core/season/need.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import { bareSeason } from "../../_support/bare-season.ts";
import { loadHighs } from "../../_support/highs.ts";
import { EVERY_DAY, PALE_BEER } from "../outside/planner/_barley-farm.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

function asOfOf(season: Season): string {
  return season.fixedAsOf ?? season.asOf;
}

async function planned(season: Season, iterations: number): Promise<Plan> {
  const outcome = await makePlan(season, { seed: 1, iterations, highs });
  if (outcome.kind !== "planned") throw new Error(outcome.kind);
  return outcome.plan;
}

describe("no plan is beyond the bound", () => {
  // Limits of the kiln, none and bins; 3 has booked runs, a booked order and a move. `deno task bench` takes the others.
  test.each([1, 3, 4])(
    "small season %i",
    async (seed) => {
      const season = makeSeason("small", seed);
      const { goals } = await planned(season, 0);
      const { levels, money } = boundOf(highs, season, asOfOf(season), goals)!;
      for (const one of [...levels.made, levels.promises, levels.tail]) {
        expect(one.bound).toBeGreaterThanOrEqual(one.plan);
      }
      if (!money) return;
      expect(money.planCents).toBeGreaterThanOrEqual(money.boundCents);
      expect(money.boundCents).toBeGreaterThanOrEqual(money.fixedCents);
      expect(money.gap).toBeCloseTo(
        (money.planCents - money.boundCents) / (money.planCents - money.fixedCents),
        9,
      );
    },
  );
});

// Wagner and Whitin, Dynamic version of the economic lot size model, Management Science 5 (1958), 89-96: least cost 864. Demands and
// set-up costs from memory; tests/unit/outside/planner/lot-sizing.test.ts recomputes that they give the published figure.
const DEMANDS = [69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56];
const SET_UPS = [85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114];
const PACK_G = 25_000;
const CENTS = 100;
const FIRST = "2027-01-11";

/** A farm that only buys: a brew and an offer a week, whose price falls by the holding cost of 1 each week. */
function twelveMonths(): Season {
  const season = seasonSchema.parse({
    ...bareSeason,
    id: "twelve-months",
    zone: "UTC",
    positionAt: "2027-01-01T00:00",
    asOf: "2027-01-01T00:00",
    fixedAsOf: "2027-01-01T00:00",
    horizonEnd: "2027-06-30",
    maltTypes: [{
      id: "pale",
      name: "pale",
      made: { from: "bought" },
      maltMoistureWb: 0.05,
      extractCoarseDb: 0.8,
      restDays: 0,
      shelfLifeDays: 2000,
    }],
    maltStore: { places: 1000, placeG: 1_000_000 },
    beers: [PALE_BEER],
    brewhouse: { brewsPerDay: 1, brewWeekdays: EVERY_DAY },
    tanks: [{ id: "tank", name: "tank", volumeL: 40_000 }],
    supplyOffers: SET_UPS.map((setUp, k) => ({
      id: `offer-${k + 1}`,
      supplier: "a maltings",
      ingredient: { kind: "malt" as const, maltId: "pale" },
      from: addDays(FIRST, 7 * k),
      to: addDays(FIRST, 7 * k),
      packG: PACK_G,
      leastPacks: 1,
      leadDays: 0,
      packCents: CENTS * (12 - k),
      freightCents: CENTS * setUp,
      extractAsIs: 0.76,
      shelfLifeDays: 1000,
    })),
  });
  const brew = (k: number, volumeL: number) => ({
    id: `brew-${k + 1}`,
    beerId: "beer",
    on: addDays(FIRST, 7 * k),
    earliest: addDays(FIRST, 7 * k),
    latest: addDays(FIRST, 7 * k),
    class: 1,
    pilot: true,
    volumeL,
  });
  const perLitreG = gristNeed(season, brew(0, 1000))[0]!.bookMassG / 1000;
  return { ...season, brews: DEMANDS.map((demand, k) => brew(k, (demand * PACK_G - 200) / perLitreG)) };
}

test("the bound of Wagner and Whitin's twelve months is nearly their least cost", () => {
  const season = twelveMonths();
  // What a unit costs beyond its holding from the day it is bought is the same in every plan.
  const fixed = DEMANDS.reduce((sum, demand, t) => sum + (12 - t) * demand, 0);
  const goals = {
    made: [12, 0, 0],
    promisesHeld: 12,
    tailMade: 0,
    moneyCents: CENTS * (864 + fixed),
  } as unknown as Plan["goals"];
  const { money } = boundOf(highs, season, asOfOf(season), goals)!;
  const least = money!.boundCents / CENTS - fixed;
  expect(least).toBeLessThanOrEqual(864);
  expect(least).toBeGreaterThan(0.98 * 864);
});
