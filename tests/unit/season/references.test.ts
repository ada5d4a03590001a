import { describe, expect, test } from "vitest";
import { microSeason } from "../../../core/generate/micro.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { seasonSchema } from "../../../core/season/season.ts";

// deno-lint-ignore no-explicit-any
type Loose = any;

const made: Loose = structuredClone(microSeason(13, "plain"));
const today = made.asOf.slice(0, 10);
const draw = { lotId: "lot-one", storeId: "bin-one", massG: 1 };
const run = {
  draws: [draw],
  maltId: "malt-one",
  profileId: "malt-one-usual",
  vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
  steepInAt: made.asOf,
};
const planting = {
  id: "planting-one",
  fieldIds: ["field"],
  areaM2: 5000,
  crop: "barley",
  varietyClass: "malting",
  sowingSeason: "spring",
  harvestYear: 2027,
  state: "lost",
  drillOn: today,
  yieldKgPerHa: { bad: 2000, likely: 3000, good: 4000 },
  moistureAtHarvestWb: 0.16,
  harvest: { early: today, likely: today, late: today },
  dryToWb: 0.12,
  handlingLoss: 0.005,
  intakeCleaningLoss: 0.02,
  testWeightKgPerHl: 62,
  restAfterHarvestDays: { early: 20, likely: 30, late: 40 },
  lotId: "lot-one",
};
const contract = { party: "somebody", massG: 1, perTonneCents: 1 };

/** A season in which every kind of row stands at least once, so that every reference does. */
const full: Loose = {
  ...made,
  plantings: [planting],
  weighTickets: [{
    id: "ticket",
    plantingId: "planting-one",
    lotId: "lot-one",
    on: today,
    massG: 1,
    moistureWb: 0.15,
  }],
  seedReserves: [{ id: "seed-one", lotId: "lot-one", massG: 1, on: today }],
  lots: [
    {
      ...made.lots[0],
      parents: [
        { kind: "planting", plantingId: "planting-one" },
        { kind: "lot", lotId: "lot-two", massG: 1 },
      ],
    },
    made.lots[1],
  ],
  roster: {
    ...made.roster,
    extra: [{ on: today, from: "06:00", to: "07:00", handOvers: ["strip"], personId: "maltster" }],
  },
  maltTypes: [
    {
      ...made.maltTypes[0],
      made: { ...made.maltTypes[0].made, alsoGives: [{ maltId: "malt-two", share: 0.1 }] },
    },
    made.maltTypes[1],
    {
      ...made.maltTypes[1],
      id: "roast",
      made: {
        from: "malt",
        maltId: "malt-one",
        weightLoss: 0,
        leastG: 1,
        greatestG: 1,
        drumHours: 1,
        runCents: 1,
      },
    },
  ],
  beers: [made.beers[0], {
    ...made.beers[1],
    substitutes: [{
      forLine: "beer-two-second",
      ingredient: { kind: "malt", maltId: "malt-one" },
      mostShare: 0.5,
    }],
    requires: [
      { kind: "lot", ids: ["lot-one"], leastShare: 0 },
      { kind: "field", ids: ["field"], leastShare: 0 },
    ],
  }],
  contracts: [
    { ...contract, kind: "buy-grain", id: "buy", lotId: "lot-two", on: made.horizonEnd },
    { ...contract, kind: "sell-grain", id: "sell", lotId: "lot-two", from: today, to: today },
    {
      ...contract,
      kind: "sell-malt",
      id: "malt",
      maltId: "malt-one",
      from: today,
      to: today,
      class: 1,
      lotIds: ["lot-one"],
    },
  ],
  opening: {
    ...made.opening,
    malt: [{ ...made.opening.malt[0], lotIds: ["lot-one"] }],
    tanks: [{ tankId: "tank-one", what: "beer", volumeL: 1, freeOn: today }],
  },
  records: {
    ...made.records,
    runs: [{ ...run, id: "run-one", outputs: [{ batchId: "new-one", maltId: "malt-one", massG: 1 }] }],
    brews: [{
      brewId: made.brews[0].id,
      on: today,
      tanks: [{ tankId: "tank-two", volumeL: 1 }],
      grist: [
        {
          lineId: made.beers.find((beer: Loose) => beer.id === made.brews[0].beerId).grist[0].id,
          from: { kind: "batch", batchId: "new-one" },
          massG: 1,
        },
        {
          lineId: made.beers.find((beer: Loose) => beer.id === made.brews[0].beerId).grist[0].id,
          from: { kind: "lot", lotId: "lot-one", storeId: "bin-one" },
          massG: 1,
        },
      ],
    }],
    orders: [{
      id: "order",
      offerId: "offer-one",
      orderedOn: today,
      arrivesOn: today,
      packs: 1,
      batchId: "new-two",
    }],
    feedLoads: [{ id: "load", pickupId: "pickup", on: today, items: [draw] }],
    moves: [{
      id: "move",
      on: today,
      lotId: "lot-one",
      fromStoreId: "bin-one",
      toStoreId: "bin-one",
      massG: 1,
      lossG: 0,
    }],
    mixes: [{ id: "mix", on: today, parents: [draw], intoLotId: "lot-one", storeId: "bin-one" }],
    fills: [{ id: "fill", on: today, ...draw }],
    deliveries: [{ id: "delivery", contractId: "sell", on: today, ...draw }],
    maltDeliveries: [{ id: "malt-delivery", contractId: "malt", on: today, batchId: "old-batch", massG: 1 }],
    adjustments: [
      { id: "count-one", on: today, lotId: "lot-one", storeId: "bin-one", deltaG: 1, reason: "swept" },
      { id: "count-two", on: today, batchId: "old-batch", deltaG: 1, reason: "weighed" },
    ],
  },
  bookings: {
    runs: [{ ...run, id: "run-two", castAt: made.asOf, kilnAt: made.asOf, stripAt: made.asOf }],
    brews: [{ brewId: made.brews[1].id, on: today }],
    orders: [{
      id: "order-two",
      offerId: "offer-one",
      orderedOn: today,
      arrivesOn: today,
      packs: 1,
      batchId: "new-three",
    }],
    feedLoads: [{ id: "load-two", pickupId: "pickup", on: today, items: [draw] }],
    moves: [{
      id: "move-two",
      on: today,
      lotId: "lot-one",
      fromStoreId: "bin-one",
      toStoreId: "bin-one",
      massG: 1,
      lossG: 0,
    }],
  },
};

/** Pointers of every text that by its key names something else. */
function referring(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== "object" || value === null) {
    const key = String(path.findLast((step) => typeof step === "string")), above = String(path.at(-2));
    const names = /Ids?$/.test(key) || ["ids", "forLine"].includes(key) || above === "vesselIds";
    const brings = key === "batchId" && (path.includes("outputs") || path.includes("orders"));
    return typeof value === "string" && names && !brings ? [path] : [];
  }
  return Object.entries(value).flatMap(([key, member]) =>
    referring(member, [...path, Array.isArray(value) ? Number(key) : key])
  );
}

const unknown = (season: Loose) =>
  checkSeason(season).findings.filter((one) => one.code === "unknown-reference").map((one) => one.field);

describe("references", () => {
  test("of the full season all lead somewhere", () => {
    expect(seasonSchema.safeParse(full).error).toBeUndefined();
    expect(unknown(full)).toEqual([]);
    expect(referring(full).length).toBeGreaterThan(60);
  });

  test("each one that leads nowhere is found where it stands", () => {
    for (const path of referring(full)) {
      const broken = structuredClone(full);
      let parent = broken;
      for (const step of path.slice(0, -1)) parent = parent[step];
      parent[path.at(-1)!] = "nowhere";
      expect(unknown(broken)).toContain(`/${path.join("/")}`);
    }
  });
});
