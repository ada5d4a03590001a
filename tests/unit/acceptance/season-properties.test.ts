import fc from "fast-check";
import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { canonicalJson, seasonHash } from "../../../core/season/canonical.ts";
import { checkSeason } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { gFromLb, GRAMS_PER_LB, LB_PER_BUSHEL, lbFromG } from "../../../core/units.ts";
import { demoSeason } from "../../_support/demo.ts";
import { loadHighs } from "../../_support/highs.ts";
import { planOf, QUICK_SEEDS, quickPlans, worse } from "./_micro-plans.ts";
import { MORE } from "./_more.ts";
import { renamed, turned } from "./_same-season.ts";

let highs: Highs;
let plans: ReadonlyMap<number, Plan>;
beforeAll(async () => {
  highs = await loadHighs();
  plans = await quickPlans(highs);
}, 120_000);

describe("a season's plan", () => {
  test.each(QUICK_SEEDS)("of seed %i stays when everything is renamed", async (seed) => {
    const season = microSeason(seed);
    const other = renamed(season);
    expect(await seasonHash(other)).not.toBe(await seasonHash(season));
    const bare = ({ seasonHash: _, unbrewed, unsold, cannotKeep, ...rest }: Plan) => ({
      ...rest,
      // Reasons name things for people, so they change with the names.
      unbrewed: unbrewed.map(({ why: _, ...one }) => one),
      unsold: unsold.map(({ why: _, ...one }) => one),
      cannotKeep: cannotKeep.map(({ why: _, ...one }) => one),
    });
    expect(bare(await planOf(highs, other))).toEqual(bare(plans.get(seed)!));
  });

  test.each(QUICK_SEEDS)(
    "of seed %i is as good when the rows of every list stand the other way round",
    async (seed) => {
      const { goals } = await planOf(highs, turned(microSeason(seed)));
      expect(worse({ ...plans.get(seed)!, goals }, plans.get(seed)!)).toBe("");
      expect(worse(plans.get(seed)!, { ...plans.get(seed)!, goals })).toBe("");
    },
  );
});

describe("more of what nobody has to use never makes the best plan worse", () => {
  // The campaign `more` takes sixty seeds; these are the quickest among them.
  const cases = [8, 65].flatMap((seed) => Object.keys(MORE).map((what) => ({ seed, what })))
    .filter(({ seed, what }) => MORE[what]!(microSeason(seed)) !== null);

  test.each(cases)("seed $seed with $what", async ({ seed, what }) => {
    const season = MORE[what]!(microSeason(seed))!;
    expect(worse(await planOf(highs, season), plans.get(seed)!)).toBe("");
  });
});

describe("quantities that convert to the same gram", () => {
  const shortTonG = 2000 * GRAMS_PER_LB;
  /** A weight in a unit of the trade and back, as a field of the page would have it: whole grams. */
  const ways: Record<string, (massG: number) => number> = {
    kilograms: (massG) => Math.round(massG / 1000 * 1000),
    tonnes: (massG) => Math.round(massG / 1e6 * 1e6),
    pounds: (massG) => Math.round(gFromLb(lbFromG(massG))),
    "short tons": (massG) => Math.round(massG / shortTonG * shortTonG),
    "bushels of barley": (massG) =>
      Math.round(massG / (LB_PER_BUSHEL.barley * GRAMS_PER_LB) * (LB_PER_BUSHEL.barley * GRAMS_PER_LB)),
  };

  test.each(Object.keys(ways))(
    "%s come back to the gram they were, up to the greatest weight of a file",
    (unit) => {
      fc.assert(
        fc.property(fc.integer({ min: 0, max: 2e10 }), (massG) => {
          expect(ways[unit]!(massG)).toBe(massG);
        }),
        { numRuns: 2000, seed: 111 },
      );
    },
  );

  test.each(Object.keys(ways))(
    "and so a season read in %s is the same one, with the same plan",
    async (unit) => {
      const season = microSeason(50);
      const again = grams(season, ways[unit]!) as Season;
      // The plan is made from the season alone, and the hash is the season's.
      expect(await seasonHash(again)).toBe(await seasonHash(season));
      if (unit === "pounds") expect(await planOf(highs, again)).toEqual(plans.get(50));
    },
  );
});

/** Every weight of a season, by the ending of its name, through a conversion. */
function grams(value: unknown, through: (massG: number) => number): unknown {
  if (Array.isArray(value)) return value.map((one) => grams(one, through));
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, member]) => [
      key,
      key.endsWith("G") && typeof member === "number" ? through(member) : grams(member, through),
    ]),
  );
}

describe("exporting and importing", () => {
  const roundTrip = (season: Season) => checkSeason(JSON.parse(JSON.stringify(season))).season;

  test("gives back every micro season as it was, and the file is not changed by going round again", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), (seed) => {
        const season = microSeason(seed);
        const back = roundTrip(season);
        expect(back).toEqual(season);
        expect(canonicalJson(back)).toBe(canonicalJson(season));
      }),
      { numRuns: 60, seed: 112 },
    );
  });

  test.each([1, 2])("gives back made season %i of a small farm, with its history", (seed) => {
    const season = makeSeason("small", seed);
    expect(roundTrip(season)).toEqual(season);
  });

  test("gives back the demo farm, and its hash", async () => {
    const season = demoSeason();
    const back = roundTrip(season);
    expect(back).toEqual(season);
    expect(await seasonHash(back!)).toBe(await seasonHash(season));
  });
});
