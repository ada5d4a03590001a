/** The books replayed from every kind of record, in weights that can be added up by eye. */
import { describe, expect, test } from "vitest";
import { context } from "../../../core/audit/context.ts";
import { batchG, takenG } from "../../../core/audit/malt-book.ts";
import { dayNumber } from "../../../core/calendar.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of } from "./_variant.ts";

const at = (lotId: string, storeId: string, massG: number) => ({ lotId, storeId, massG });

/** Opening 1,000,000 of lot b in bin 3 and all that can happen to it, each by a weight of its own. */
function recorded(): Season {
  const season = handSeason(), { records } = season;
  season.opening.grain = [at("b", "bin-3", 1_000_000), at("b", "bin-4", 0)];
  season.seedReserves = [
    { id: "s0", lotId: "b", massG: 400_000, on: "2027-01-03" },
    { id: "s1", lotId: "b", massG: 1, on: "2027-01-17" },
    { id: "s2", lotId: "b", massG: 500_000, on: "2027-01-18" },
  ];
  const on = "2027-01-11", [done, under] = records.runs;
  done!.draws = [at("b", "bin-3", 300_000)];
  under!.draws = [at("b", "bin-3", 20)];
  under!.steepInAt = season.positionAt;
  records.fills = [{ id: "f", on, ...at("b", "bin-3", 300) }];
  records.feedLoads = [{ id: "l", pickupId: "cattle", on, items: [at("b", "bin-3", 4000)] }];
  records.moves = [{
    id: "m",
    on,
    lotId: "b",
    fromStoreId: "bin-3",
    toStoreId: "bags",
    massG: 50_000,
    lossG: 7,
  }];
  records.mixes = [{
    id: "x",
    on,
    parents: [at("b", "bin-3", 600), at("a", "bin-1", 8)],
    intoLotId: "c",
    storeId: "bin-2",
  }];
  records.deliveries = [{ id: "d", contractId: "sell-b", on, ...at("b", "bin-3", 9000) }];
  records.maltDeliveries = [{ id: "e", contractId: "sell-pale", on, batchId: "open-pale", massG: 70 }];
  records.brews[0]!.grist.push({
    lineId: "base",
    from: { kind: "lot", lotId: "b", storeId: "bin-3" },
    massG: 10_000,
  });
  records.adjustments = [
    { id: "j1", on, lotId: "b", storeId: "bin-3", deltaG: -200_000, reason: "counted" },
    { id: "j2", on, batchId: "open-pale", deltaG: 5, reason: "counted" },
  ];
  return season;
}

describe("grain", () => {
  const plan = handPlan();
  plan.runs = plan.runs.slice(0, 1);
  for (
    const list of [plan.brews, plan.fills, plan.moves, plan.feedLoads, plan.seedTaken, plan.grainDeliveries]
  ) {
    list.length = 0;
  }
  const { grain } = context(recorded(), plan);
  const asOf = dayNumber("2027-01-18");

  test("every record moves its weight once", () => {
    const left = 1_000_000 - 20 + 300 - 4000 - 50_000 - 600 - 9000 - 10_000 - 200_000 - 1;
    expect(grain.stockG("b", "bin-3", asOf)).toBe(left);
    expect(grain.stockG("b", "bags", asOf)).toBe(49_993);
    expect(grain.lotG("b", asOf)).toBe(left + 49_993);
    expect(grain.stockG("c", "bin-2", asOf)).toBe(608);
    // Eight grams were tipped out of a bin that by the book held none.
    expect(grain.stockG("a", "bin-1", asOf)).toBe(0);
  });

  test("a day holds what happened by its end", () => {
    expect(grain.stockG("b", "bin-3", dayNumber("2027-01-03"))).toBe(0);
    expect(grain.stockG("b", "bin-3", dayNumber("2027-01-10"))).toBe(999_980);
    expect(grain.stockG("b", "nowhere", asOf)).toBe(0);
  });

  test("what the records leave below nothing in one store is not taken from another", () => {
    const season = recorded();
    season.records.deliveries[0]!.massG = 2_000_000;
    const book = context(season, plan).grain;
    expect(book.stockG("b", "bin-3", asOf)).toBe(0);
    // The gram of seed is taken where some is left.
    expect(book.lotG("b", asOf)).toBe(49_992);
  });

  test("a lot lay first where it came first", () => {
    expect(grain.firstStore("b")).toBe("bin-3");
    expect(grain.firstStore("a")).toBeUndefined();
  });
});

describe("malt", () => {
  const book = (change: (season: Season) => void = () => {}) => {
    const season = recorded();
    change(season);
    return context(season, handPlan()).malt.batches;
  };
  const on = dayNumber("2027-01-18");

  test("an opening batch less what was brewed and delivered, set right by a count", () => {
    const batch = book().get("open-pale")!;
    expect(batchG(batch, on)).toBe(500_000 - 190_000 - 70 + 5);
    expect(takenG(batch, dayNumber("2027-01-10"))).toBe(0);
    expect(batchG(batch, dayNumber("2027-01-03"))).toBe(0);
  });

  test("a recorded run's malt is there, held or free, unless it went to feed or waste", () => {
    expect(book().get("held-pale")).toMatchObject({ massG: 400_000, held: true, home: true });
    expect(book((season) => season.records.runs[0]!.outcome = "released").get("held-pale")?.held).toBe(false);
    expect(book((season) => delete season.records.runs[0]!.outcome).get("held-pale")?.held).toBe(false);
    for (const outcome of ["feed", "dumped"] as const) {
      expect(book((season) => season.records.runs[0]!.outcome = outcome).has("held-pale")).toBe(false);
    }
  });

  test("a run stripped before the opening position is part of it", () => {
    expect(book((season) => season.positionAt = "2027-01-05T08:00").has("held-pale")).toBe(true);
    expect(book((season) => season.positionAt = "2027-01-05T08:01").has("held-pale")).toBe(false);
  });

  test("an order that came before the opening position is part of it", () => {
    const order = (arrivesOn: string) => (season: Season) => {
      season.records.orders.push({
        id: "o0",
        offerId: "offer-crystal",
        orderedOn: "2026-12-20",
        arrivesOn,
        packs: 4,
        batchId: "crystal-0",
      });
    };
    expect(book(order("2027-01-03")).has("crystal-0")).toBe(false);
    expect(book(order("2027-01-04")).get("crystal-0")).toMatchObject({ massG: 100_000, home: false });
  });

  test("malt of one bought lot is not home-grown", () => {
    const batches = book((season) => of(season.lots, "b").origin = "in-state");
    expect(batches.get("r3-pale")?.home).toBe(true);
    expect(batches.get("r4-pale")?.home).toBe(false);
    expect(batches.get("r4-pale")?.extractAsIs).toBeCloseTo((0.4 * 0.82 + 0.6 * 0.8) * 0.95, 12);
    expect(batches.get("toasted-1")?.home).toBe(true);
    expect(book((season) => of(season.lots, "a").origin = "elsewhere").get("toasted-1")?.home).toBe(false);
  });
});
