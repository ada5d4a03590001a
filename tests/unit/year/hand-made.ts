import type { Plan, PlanBrew, PlanRun } from "../../../core/plan/plan.ts";
import { addDays } from "../../../core/calendar.ts";
import { type Season, type SeasonFile, seasonSchema } from "../../../core/season/season.ts";

/** A small invented farm: two bins, one steep, one bed, one kiln, one malt, one beer, two tanks. Days are easy to count. */
export const FARM: SeasonFile = {
  format: "rickyard-season",
  version: 1,
  id: "hand-farm",
  name: "Hand Farm",
  zone: "Europe/Dublin",
  readerUnits: "metric",
  currency: "EUR",
  positionAt: "2027-01-04T00:00",
  asOf: "2027-01-18T07:00",
  horizonEnd: "2027-12-31",
  fields: [
    { id: "long", name: "Long Bottom", areaM2: 50_000, cropHistory: [{ year: 2026, crop: "barley" }] },
    { id: "far", name: "Far Side", areaM2: 40_000, cropHistory: [{ year: 2027, crop: "clover" }] },
  ],
  plantings: [
    planting("barley-2026", 2026, "harvested", "lot-a"),
    planting("barley-2027", 2027, "sown", "lot-g"),
  ],
  weighTickets: [
    {
      id: "ticket-1",
      plantingId: "barley-2026",
      lotId: "lot-a",
      on: "2026-07-08",
      massG: 21_000_000,
      moistureWb: 0.16,
    },
  ],
  lots: [
    lot("lot-a", "A", { parents: [{ kind: "planting", plantingId: "barley-2026" }] }),
    lot("lot-c", "C", { use: "feed" }),
    lot("lot-g", "G", {
      forecast: true,
      harvestYear: 2027,
      parents: [{ kind: "planting", plantingId: "barley-2027" }],
      wakesOn: undefined,
    }),
  ],
  stores: [bin("bin-1", "Bin 1"), bin("bin-2", "Bin 2")],
  vessels: [vessel("steep"), vessel("bed"), vessel("kiln")],
  roster: {
    weekly: [{
      weekdays: [1, 2, 3, 4, 5],
      from: "08:00",
      to: "16:00",
      handOvers: ["steepIn", "castToBed", "kilnLoading", "strip"],
    }],
    steepInTimes: ["08:00"],
    heldDays: 3,
  },
  maltTypes: [
    {
      id: "pale",
      name: "Pale",
      made: {
        from: "grain",
        crops: ["barley"],
        acceptance: {},
        profiles: [{
          id: "week",
          name: "week",
          steep: { least: 48, usual: 48, greatest: 48 },
          bed: { least: 120, usual: 120, greatest: 120 },
          kiln: { least: 24, usual: 24, greatest: 24 },
        }],
        screeningLoss: 0.04,
        steepLossDm: 0.01,
        respirationLossDm: 0.05,
        rootletLossDm: 0.04,
        runCents: 40_000,
      },
      maltMoistureWb: 0.05,
      extractCoarseDb: 0.8,
      restDays: 21,
      shelfLifeDays: 365,
    },
  ],
  maltStore: { places: 24, placeG: 500_000 },
  beers: [{
    id: "field-pale",
    name: "Field Pale",
    letter: "f",
    gravityP: 12,
    volumeL: 1600,
    brewhouseEfficiency: 0.85,
    losses: [{ name: "fermenter", share: 0.06 }, { name: "package", share: 0.04 }],
    tankDays: 13,
    grist: [{ id: "pale-line", ingredient: { kind: "malt", maltId: "pale" }, share: 1 }],
    homeSharePromise: 0.75,
  }],
  brews: [],
  brewhouse: { brewsPerDay: 1, brewWeekdays: [1, 2, 3, 4, 5] },
  tanks: [{ id: "tank-1", name: "Tank 1", volumeL: 2000 }, { id: "tank-2", name: "Tank 2", volumeL: 2000 }],
  supplyOffers: [{
    id: "maltings",
    supplier: "A maltings",
    ingredient: { kind: "malt", maltId: "pale" },
    from: "2027-01-01",
    to: "2027-12-31",
    packG: 25_000,
    leastPacks: 10,
    leadDays: 10,
    packCents: 4000,
    freightCents: 9000,
    extractAsIs: 0.78,
    shelfLifeDays: 300,
  }],
  feedPickups: [{
    id: "cattle",
    buyer: "A cattle yard",
    species: "cattle over four months",
    crops: ["barley"],
    from: "2027-02-01",
    to: "2027-12-31",
    leastG: 1_000_000,
    greatestG: 20_000_000,
    mostLoads: 2,
    perTonneCents: 15_000,
    donPpmMost: 10,
  }],
  costs: { reservePerTonneDayCents: 100, changedRunCents: 1000 },
  opening: {
    grain: [
      { lotId: "lot-a", storeId: "bin-1", massG: 10_000_000 },
      { lotId: "lot-c", storeId: "bin-2", massG: 3_000_000 },
    ],
    malt: [{
      id: "old-pale",
      ingredient: { kind: "malt", maltId: "pale" },
      massG: 1_000_000,
      home: true,
      lotIds: ["lot-a"],
      madeOn: "2026-12-01",
      readyOn: "2026-12-22",
      bestBefore: "2027-12-01",
      extractAsIs: 0.76,
    }],
  },
  records: {},
  bookings: {},
};

function planting(id: string, year: number, state: "sown" | "harvested", lotId: string) {
  return {
    id,
    fieldIds: ["long"],
    areaM2: 50_000,
    crop: "barley" as const,
    varietyClass: "two-row malting",
    sowingSeason: "winter" as const,
    harvestYear: year,
    state,
    drillOn: `${year - 1}-10-01`,
    yieldKgPerHa: { bad: 3000, likely: 4000, good: 5000 },
    moistureAtHarvestWb: 0.16,
    harvest: { early: `${year}-07-01`, likely: `${year}-07-08`, late: `${year}-07-20` },
    dryToWb: 0.12,
    handlingLoss: 0.005,
    intakeCleaningLoss: 0.02,
    testWeightKgPerHl: 62,
    restAfterHarvestDays: { early: 21, likely: 42, late: 56 },
    lotId,
  };
}

type LotFile = NonNullable<SeasonFile["lots"]>[number];

function lot(
  id: string,
  letter: string,
  other: Omit<Partial<LotFile>, "wakesOn"> & { wakesOn?: undefined },
): LotFile {
  const forecast = other.forecast === true;
  return {
    id,
    letter,
    name: `lot ${letter}`,
    crop: "barley",
    varietyClass: "two-row malting",
    harvestYear: 2026,
    origin: "own",
    formedOn: forecast ? "2027-07-08" : "2026-07-10",
    moistureWb: 0.12,
    testWeightKgPerHl: 62,
    use: "malting",
    // Asleep until ten days after the opening, so that both states are drawn.
    ...(forecast ? {} : { wakesOn: { early: "2027-01-08", likely: "2027-01-11", late: "2027-01-14" } }),
    ...other,
  } as LotFile;
}

function bin(id: string, name: string) {
  return {
    kind: "bin" as const,
    id,
    name,
    shape: { kind: "volume" as const, volumeL: 40_000 },
    turnaroundDays: 3,
    monthTempC: new Array<number>(12).fill(8),
  };
}

function vessel(stage: "steep" | "bed" | "kiln") {
  return {
    id: stage,
    name: { steep: "Steep", bed: "Germination bed", kiln: "Kiln" }[stage],
    stages: [stage],
    loadLimits: [{ crop: "barley" as const, leastG: 500_000, greatestG: 1_000_000 }],
    cleaningHours: 4,
  };
}

/** The farm as a parsed season, with some of its parts replaced. */
export function farm(other: Partial<SeasonFile> = {}): Season {
  return seasonSchema.parse({ ...FARM, ...other });
}

/** A brew of the calendar, three days either side allowed. */
export function asked(id: string, on: string, other: Partial<Season["brews"][number]> = {}) {
  return {
    id,
    beerId: "field-pale",
    on,
    earliest: addDays(on, -3),
    latest: addDays(on, 3),
    class: 1 as const,
    ...other,
  };
}

/** 1,000 kg drawn: 960 kg clean, 844.8 kg of it dry, of which 90 % becomes malt of 5 %. */
export const MALT_G = 800_337;

/** A run of 1,000 kg of a lot, started on a Monday, Tuesday or Wednesday at 8:00. */
export function run(id: string, steepInOn: string, other: Partial<PlanRun> = {}): PlanRun {
  const at = (days: number) => `${addDays(steepInOn, days)}T08:00`;
  return {
    id,
    standing: "not booked",
    draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
    maltId: "pale",
    profileId: "week",
    vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
    steepInAt: at(0),
    castAt: at(2),
    kilnAt: at(7),
    stripAt: at(8),
    screeningsG: 40_000,
    cleanG: 960_000,
    culmsG: 35_571,
    outputs: [{
      batchId: `malt-${id}`,
      maltId: "pale",
      massG: MALT_G,
      readyOn: addDays(steepInOn, 29),
      bestBefore: addDays(steepInOn, 373),
    }],
    ...other,
  };
}

/** A brew made of so many grams of these batches; what is not home-made is called `order`. */
export function brewed(id: string, on: string, from: Record<string, number>, tankId = "tank-1"): PlanBrew {
  const entries = Object.entries(from);
  const allG = entries.reduce((sum, [, massG]) => sum + massG, 0);
  const homeG = entries.filter(([batchId]) => batchId !== "bought").reduce(
    (sum, [, massG]) => sum + massG,
    0,
  );
  return {
    id,
    beerId: "field-pale",
    standing: "not booked",
    on,
    tanks: [{ tankId, volumeL: 1600 }],
    grist: entries.map(([batchId, massG]) => ({
      lineId: "pale-line",
      from: { kind: "batch", batchId },
      massG,
    })),
    homeShare: homeG / allG,
    promiseHeld: homeG / allG >= 0.75,
  };
}

/** An order of pale malt under the batch name `bought`. */
export function order(orderedOn: string, packs: number): Plan["orders"][number] {
  return {
    id: "order-1",
    standing: "not booked",
    offerId: "maltings",
    orderedOn,
    arrivesOn: addDays(orderedOn, 10),
    packs,
    batchId: "bought",
    massG: packs * 25_000,
    bestBefore: addDays(orderedOn, 310),
    costCents: packs * 4000 + 9000,
  };
}

/** A plan in which only the named parts happen. */
export function planWith(other: Partial<Plan> = {}): Plan {
  const none = [0, 0, 0] as [number, number, number];
  return {
    format: "rickyard-plan",
    version: 1,
    seasonId: "hand-farm",
    seasonHash: "0".repeat(64),
    revision: 0,
    asOf: "2027-01-18T07:00",
    seed: 1,
    iterations: 0,
    program: "test",
    stoppedEarly: false,
    runs: [],
    drums: [],
    brews: [],
    unbrewed: [],
    maltDeliveries: [],
    unsold: [],
    orders: [],
    fills: [],
    leftOut: [],
    moves: [],
    feedLoads: [],
    seedTaken: [],
    grainDeliveries: [],
    cannotKeep: [],
    goals: {
      made: none,
      asked: none,
      promisesHeld: 0,
      tailMade: 0,
      moneyCents: 123_456,
      money: {
        runsCents: 120_000,
        ordersCents: 3456,
        movesCents: 0,
        nightTurnsCents: 0,
        extraHoursCents: 0,
        feedCents: 0,
        salesCents: 0,
        endGrainCents: 0,
        reserveCents: 0,
        changedRunsCents: 0,
      },
    },
    ...other,
  };
}

/** Mondays from the first one on. */
export function mondays(first: string, count: number): string[] {
  return Array.from({ length: count }, (_, at) => addDays(first, 7 * at));
}

/** Three tonnes of feed lot C out of bin 2. */
export const FEED_OF_C: Plan["feedLoads"][number] = {
  id: "load-1",
  standing: "not booked",
  pickupId: "cattle",
  on: "2027-06-21",
  items: [{ lotId: "lot-c", storeId: "bin-2", massG: 3_000_000 }],
  revenueCents: 45_000,
};
