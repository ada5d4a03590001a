import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import type { Beer, Brew } from "../../../core/season/brewing.ts";
import { bookExtractAsIs, gristNeed, reserveFloorG } from "../../../core/season/need.ts";
import type { Season } from "../../../core/season/season.ts";

const base = microSeason(13, "plain");
const [one, two] = base.maltTypes as [Season["maltTypes"][0], Season["maltTypes"][0]];

/** The demo's lager: 14 US barrels at 11.5 °P from malt of 77 % as is, at 85 % in the brewhouse. */
const lager: Beer = {
  ...base.beers[0]!,
  gravityP: 11.5,
  volumeL: 14 * 117.347765304,
  brewhouseEfficiency: 0.85,
};
const brew: Brew = { ...base.brews[0]!, id: "brew", beerId: lager.id };
const malt77 = { ...one, extractCoarseDb: 0.77 / 0.955, maltMoistureWb: 0.045 };
const season: Season = { ...base, beers: [lager], brews: [brew], maltTypes: [malt77, two] };

describe("grist of a brew", () => {
  test("agrees with the brewer's rule in pounds: 258.6 x gravity x strength a barrel", () => {
    // lb of extract in a US barrel = 258.6 x SG x P / 100; the SG of 11.5 °P is 1.0463 (tables of the American Society
    // of Brewing Chemists, from memory).
    const pounds = 14 * 258.6 * 1.0463 * 0.115 / (0.77 * 0.85);
    const [line] = gristNeed(season, brew);
    // The brewer's rule counts a barrel of water at its heaviest, so it asks for a little more.
    const share = line!.bookMassG / 453.59237 / pounds;
    expect(share).toBeGreaterThan(0.997);
    expect(share).toBeLessThan(1);
    expect(line!.extractG).toBeCloseTo(line!.bookMassG * 0.77, 3);
  });

  test("splits extract by share x book extract, so that weights keep the shares", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 99 }),
        fc.double({ min: 0.4, max: 0.8, noNaN: true }),
        (part, raw) => {
          const grist: Beer["grist"] = [
            { id: "malt", ingredient: { kind: "malt", maltId: two.id }, share: part / 100 },
            {
              id: "raw",
              ingredient: { kind: "grain", crop: "oats", extractAsIs: raw },
              share: 1 - part / 100,
            },
          ];
          const mixed = { ...season, beers: [{ ...lager, grist }] };
          const [malt, grain] = gristNeed(mixed, brew);
          const gristG = malt!.bookMassG + grain!.bookMassG;
          expect(malt!.bookMassG / gristG).toBeCloseTo(part / 100, 9);
          expect(malt!.extractG).toBeCloseTo(malt!.bookMassG * bookExtractAsIs(season, malt!.ingredient), 4);
          // The mash gets the same extract from any grist.
          expect(malt!.extractG + grain!.extractG).toBeCloseTo(gristNeed(season, brew)[0]!.extractG, 3);
        },
      ),
    );
  });

  test("goes by the brew's own volume where it has one", () => {
    const half = gristNeed(season, { ...brew, volumeL: lager.volumeL / 2 })[0]!;
    expect(half.extractG * 2).toBeCloseTo(gristNeed(season, brew)[0]!.extractG, 6);
  });

  test("is empty for a beer without grist", () => {
    expect(gristNeed({ ...season, beers: [{ ...lager, grist: [] }] }, brew)).toEqual([]);
  });
});

describe("reserve floor", () => {
  const needG = gristNeed(season, brew)[0]!.bookMassG;
  const calendar = (...days: number[]): Season => ({
    ...season,
    brews: days.map((after, index) => ({ ...brew, id: `brew-${index}`, on: addDays(brew.on, after) })),
  });

  test("is one mean week from the first brew to the last, both days counted", () => {
    expect(reserveFloorG(calendar(0, 20), malt77)).toBeCloseTo(2 * needG / 21 * 7, 6);
    expect(reserveFloorG(calendar(0), malt77)).toBeCloseTo(7 * needG, 6);
  });

  test("is the farm's own figure where it gives one, also for bought malt", () => {
    expect(reserveFloorG(calendar(0), { ...malt77, reserveFloorG: 5 })).toBe(5);
    expect(reserveFloorG(calendar(0), { ...malt77, made: { from: "bought" } })).toBe(0);
    expect(reserveFloorG(calendar(0), { ...malt77, made: { from: "bought" }, reserveFloorG: 5 })).toBe(5);
  });

  test("is nothing for a malt no brew asks for", () => {
    expect(reserveFloorG(calendar(0), two)).toBe(0);
  });
});
