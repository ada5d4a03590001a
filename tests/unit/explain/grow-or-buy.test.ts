/** Own malt beside its price, and seed for what is still to be drilled: checked by hand. */
import { describe, expect, test } from "vitest";
import { feedCentsPerTonne, growOrBuy } from "../../../core/explain/grow-or-buy.ts";
import { seedNeeds } from "../../../core/explain/seed-need.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Season } from "../../../core/season/season.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

const demo = { ...demoSeason(), asOf: demoSeason().fixedAsOf! };

describe("grow or buy", () => {
  test("one run by hand: run, tonnes steeped and grain over the malt that comes out", async () => {
    const pale = demo.maltTypes.find((one) => one.id === "pale")!;
    if (pale.made.from !== "grain") throw new Error("pale is not made from grain");
    const outcome = await makePlan(demo, { seed: 1, iterations: 0, highs: null });
    if (outcome.kind !== "planned") throw new Error(outcome.kind);
    const free = outcome.plan.runs.filter((one) => one.maltId === "pale" && one.standing !== "under way");
    const run = free[0]!;
    const [found] = growOrBuy(demo, { ...outcome.plan, runs: [run] }, 20_000);
    const drawnG = run.draws.reduce((sum, one) => sum + one.massG, 0);
    const maltKg = run.outputs.reduce((sum, one) => sum + one.massG, 0) / 1000;
    const cents = pale.made.runCents + pale.made.perTonneCents * run.cleanG / 1e6 + 20_000 * drawnG / 1e6;
    expect(found!.homeCentsPerKg.least).toBeCloseTo(cents / maltKg, 6);
    expect(found!.homeCentsPerKg.most).toBe(found!.homeCentsPerKg.least);
    expect(found!.grainCentsPerKg).toBeCloseTo(20_000 * drawnG / 1e6 / maltKg, 6);
    const offer = demo.supplyOffers.find((one) =>
      one.ingredient.kind === "malt" && one.ingredient.maltId === "pale"
    )!;
    const same = pale.extractCoarseDb * (1 - pale.maltMoistureWb) / offer.extractAsIs;
    expect(found!.boughtCentsPerKg!.least).toBeCloseTo(same * offer.packCents / (offer.packG / 1000), 6);
    expect(found!.boughtCentsPerKg!.most).toBeCloseTo(
      same * (offer.packCents + offer.freightCents / offer.leastPacks) / (offer.packG / 1000),
      6,
    );
    const all = growOrBuy(demo, outcome.plan, null);
    expect(all.map((one) => one.massG)).toEqual(all.map((one) => one.massG).toSorted((a, b) => b - a));
    expect(all.find((one) => one.maltId === "pale")!.homeCentsPerKg.most).toBeGreaterThan(
      all.find((one) => one.maltId === "pale")!.homeCentsPerKg.least,
    );
  });

  test("grain stands at the best that feed pays after haulage, or at nothing where nobody takes it", () => {
    // Demo: 165.00 a tonne less 35.00 a load.
    const best = demo.feedPickups.filter((one) => one.crops.includes("barley")).map((one) =>
      one.perTonneCents - one.haulageCents / (one.greatestG / 1e6)
    );
    expect(feedCentsPerTonne(demo, "barley")).toBeCloseTo(Math.max(...best), 9);
    expect(feedCentsPerTonne({ ...demo, feedPickups: [] }, "barley")).toBe(0);
  });

  test("tells nothing where no run is planned, and of a malt that nobody offers its own cost alone", async () => {
    expect(growOrBuy(demo, await emptyPlan(demo), null)).toEqual([]);
    const outcome = await makePlan(demo, { seed: 1, iterations: 0, highs: null });
    if (outcome.kind !== "planned") throw new Error(outcome.kind);
    // Grain of others has another price: its runs are left out.
    const bought = { ...demo, lots: demo.lots.map((lot) => ({ ...lot, origin: "in-state" as const })) };
    expect(growOrBuy(bought, outcome.plan, null)).toEqual([]);
    const alone: Season = { ...demo, supplyOffers: [] };
    expect(growOrBuy(alone, outcome.plan, null).every((one) => one.boughtCentsPerKg === null)).toBe(true);
  });
});

describe("seed", () => {
  test("is asked for what is planned and not drilled, the first first, beside what is held back for it", () => {
    const needs = seedNeeds(demo);
    expect(needs.map((one) => [one.what, one.firstOn])).toEqual([
      ["barley, two-row malting, spring", "2027-04-14"],
      ["oats, white spring", "2027-04-19"],
    ]);
    const [barley, oats] = needs;
    expect(barley!.areaM2).toBe(demo.plantings.find((one) => one.id === "spring-barley-2027")!.areaM2);
    const held = demo.seedReserves.filter((one) => one.on > "2027-01-18" && one.on <= "2027-04-14");
    expect(barley!.heldG).toBe(held.reduce((sum, one) => sum + one.massG, 0));
    expect(barley!.heldG).toBeGreaterThan(0);
    expect(oats!.heldG).toBe(0);
    expect(seedNeeds({ ...demo, plantings: [] })).toEqual([]);
  });

  test("that left before today, or is taken after the last is drilled, is not for it", () => {
    const reserve = demo.seedReserves.find((one) => one.on > "2027-01-18" && one.on <= "2027-04-14")!;
    const on = (day: string) => seedNeeds({ ...demo, seedReserves: [{ ...reserve, on: day }] })[0]!.heldG;
    expect(on("2027-04-14")).toBe(reserve.massG);
    expect(on("2027-04-15")).toBe(0);
    expect(on("2027-01-17")).toBe(0);
  });

  test("of another class, or taken for one planting already, is not counted for another", () => {
    const spring = demo.plantings.find((one) => one.id === "spring-barley-2027")!;
    const winter = { ...spring, id: "winter-2028", sowingSeason: "winter" as const, drillOn: "2027-10-01" };
    const both = seedNeeds({ ...demo, plantings: [winter, spring] });
    expect(both.map((one) => one.id)).toEqual([spring.id, winter.id]);
    const [first, second] = both;
    const later = demo.seedReserves.filter((one) => one.on > "2027-04-14" && one.on <= "2027-10-01")
      .filter((one) => demo.lots.find((lot) => lot.id === one.lotId)!.varietyClass === spring.varietyClass);
    expect(first!.heldG).toBeGreaterThan(0);
    expect(second!.heldG).toBe(later.reduce((sum, one) => sum + one.massG, 0));
    const six = seedNeeds({ ...demo, plantings: [{ ...spring, varietyClass: "six-row feed" }] });
    expect(six[0]!.heldG).toBe(0);
  });
});
