import { describe, expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { checkSeason, type Finding } from "../../../core/season/check.ts";
import { FINDING_LEVELS, type FindingCode } from "../../../core/season/check/codes.ts";

// A made season with one lot in each bin, malt in store, an offer and a pick-up, about which there is nothing to say.
const base = microSeason(13, "plain");
const today = base.asOf.slice(0, 10);
const day = (after: number) => addDays(today, after);

// Mutations reach into every corner of the season and may break its type on purpose.
// deno-lint-ignore no-explicit-any
type Loose = any;

const RUN = {
  id: "run-one",
  draws: [{ lotId: "lot-one", storeId: "bin-one", massG: 200_000 }],
  maltId: "malt-one",
  profileId: "malt-one-usual",
  vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
};
const recordedRun = (steepInAt: string, more: object = {}) => ({ ...RUN, steepInAt, ...more });
const bookedRun = (after: number) => ({
  ...RUN,
  steepInAt: `${day(after)}T08:00`,
  castAt: `${day(after + 2)}T08:00`,
  kilnAt: `${day(after + 6)}T08:00`,
  stripAt: `${day(after + 7)}T08:00`,
});
/** The opening position was counted ten days before as-of. */
const opened = (season: Loose) => {
  season.positionAt = `${day(-10)}T06:00`;
  for (const tank of season.opening.tanks) tank.since = day(-12);
};
const planting = (more: object = {}) => ({
  id: "planting-one",
  fieldIds: ["field"],
  areaM2: 5000,
  crop: "barley",
  varietyClass: "malting",
  sowingSeason: "spring",
  harvestYear: Number(today.slice(0, 4)),
  state: "sown",
  drillOn: day(-100),
  yieldKgPerHa: { bad: 2000, likely: 3000, good: 4000 },
  moistureAtHarvestWb: 0.16,
  harvest: { early: day(28), likely: day(30), late: day(35) },
  dryToWb: 0.12,
  handlingLoss: 0.005,
  intakeCleaningLoss: 0.02,
  testWeightKgPerHl: 62,
  restAfterHarvestDays: { early: 20, likely: 30, late: 40 },
  lotId: "lot-new",
  ...more,
});
const newLot = {
  id: "lot-new",
  letter: "N",
  name: "Lot to come",
  crop: "barley",
  varietyClass: "malting",
  harvestYear: Number(today.slice(0, 4)),
  origin: "own",
  formedOn: day(30),
  forecast: true,
  moistureWb: 0.12,
  testWeightKgPerHl: 62,
  use: "malting",
};
/** A field with a crop to come, and an empty bin for it. */
const sow = (season: Loose, more: object = {}) => {
  season.plantings.push(planting(more));
  season.lots.push({ ...newLot });
  season.stores.push({ ...season.stores[0], id: "bin-three", name: "Bin three" });
};
const year = Number(today.slice(0, 4));

/** For every code a change that provokes it and nothing else. */
const PROVOKED: Partial<Record<FindingCode, (season: Loose) => void>> = {
  "wrong-format": (s) => s.format = "rickyard-plan",
  "newer-version": (s) => s.version = 2,
  "older-version": (s) => s.version = 0,
  "unknown-field": (s) => s.lots[0].moistureWB = 0.12,
  "missing-field": (s) => delete s.lots[0].testWeightKgPerHl,
  "wrong-type": (s) => s.beers[0].gravityP = "12",
  "wrong-choice": (s) => s.lots[0].crop = "barly",
  "wrong-writing": (s) => s.lots[0].formedOn = "2027-02-29",
  "wrong-length": (s) => s.vessels[1].monthLoadFactor.pop(),
  "below-zero": (s) => s.opening.grain[0].massG = -1,
  "absurd-value": (s) => s.opening.grain[0].massG = 3e10,
  "absurd-date": (s) => s.lots[0].formedOn = "0207-01-05",
  "duplicate-id": (s) => s.tanks[1].id = "bed",
  "tail-id-too-long": (s) => s.brews[0].id = "b".repeat(36),
  "tail-id-taken": (s) => s.brews[0].id = `tail-${s.brews[1].id}`,
  "run-id-too-long": (s) => s.bookings.runs.push({ ...bookedRun(7), id: "r".repeat(37) }),
  "malt-before-strip": (s) => {
    opened(s);
    const outputs = [{ batchId: "early-malt", maltId: RUN.maltId, massG: 1000 }];
    s.records.runs.push({ ...RUN, steepInAt: `${day(-3)}T08:00`, outputs });
  },
  "unknown-reference": (s) => s.brews[0].beerId = "beer-on",
  "wrong-vessel": (s) =>
    s.bookings.runs.push({ ...bookedRun(7), vesselIds: { steep: "kiln", bed: "bed", kiln: "kiln" } }),
  "window-upside-down": (s) => s.brews[1].earliest = addDays(s.brews[1].on, 1),
  "spread-upside-down": (s) => s.lots[0].wakesOn = { early: day(9), likely: day(8), late: day(10) },
  "profile-upside-down": (s) => s.maltTypes[0].made.profiles[0].steep.least = 60,
  "load-limits-upside-down": (s) => s.vessels[0].loadLimits[0].leastG = 9e8,
  "shares-not-one": (s) => s.beers[1].grist[0].share -= 0.1,
  "losses-over-one": (s) => s.maltTypes[0].made.alsoGives = [{ maltId: "malt-two", share: 1 }],
  "impossible-value": (s) => s.maltTypes[0].made.culmMoistureWb = 1,
  "shelf-shorter-than-rest": (s) => s.maltTypes[0].shelfLifeDays = s.maltTypes[0].restDays - 1,
  "adjustment-unclear": (s) =>
    s.records.adjustments.push({ id: "adjusted", on: today, lotId: "lot-one", deltaG: 5, reason: "counted" }),
  "delivery-of-other-kind": (s) => {
    const sale = { party: "a buyer", massG: 1000, from: today, to: day(9), perTonneCents: 1 };
    s.contracts.push({ ...sale, kind: "sell-grain", id: "contract", lotId: "lot-one" });
    const batchId = s.opening.malt[0].id;
    s.records.maltDeliveries = [{ id: "delivery", contractId: "contract", on: today, batchId, massG: 1 }];
  },
  "crop-mismatch": (s) => sow(s, { crop: "rye" }),
  "position-after-as-of": (s) => s.positionAt = `${day(1)}T06:00`,
  "now-before-as-of": (s) => {
    opened(s);
    s.fixedAsOf = `${today}T05:59`;
  },
  "as-of-after-horizon": (s) => {
    s.horizonEnd = day(-1);
    s.brews = [s.brews[0]];
    Object.assign(s.brews[0], { on: day(-1), earliest: day(-1), latest: day(-1) });
    s.records.brews.push({
      brewId: s.brews[0].id,
      on: today,
      tanks: [{ tankId: "tank-two", volumeL: 500 }],
      grist: [],
    });
  },
  "horizon-too-long": (s) => s.horizonEnd = addDays(today, 1097),
  "record-after-as-of": (s) =>
    s.records.moves.push({
      id: "moved",
      on: day(1),
      lotId: "lot-one",
      fromStoreId: "bin-one",
      toStoreId: "bin-one",
      massG: 0,
      lossG: 0,
    }),
  "outside-horizon": (s) => s.seedReserves = [{ id: "late", lotId: "lot-one", massG: 1, on: day(42 + 85) }],
  "lot-cycle": (s) => {
    s.lots[0].parents = [{ kind: "lot", lotId: "lot-two", massG: 1 }];
    s.lots[1].parents = [{ kind: "lot", lotId: "lot-one", massG: 1 }];
  },
  "malt-cycle": (s) => {
    const drum = { from: "malt", weightLoss: 0.1, leastG: 1, greatestG: 2, drumHours: 1, runCents: 0 };
    s.maltTypes.push({ ...s.maltTypes[0], id: "roast", made: { ...drum, maltId: "roast" } });
  },
  "two-lots-in-bin": (s) => s.opening.grain.push({ lotId: "lot-two", storeId: "bin-one", massG: 1 }),
  "lot-twice-in-store": (s) => s.opening.grain.push({ lotId: "lot-one", storeId: "bin-one", massG: 1 }),
  "store-over-capacity": (s) => s.opening.grain[0].massG = 9_000_000,
  "harvest-into-weighed-lot": (s) => {
    sow(s);
    s.plantings[0].lotId = "lot-one";
    s.lots.pop();
  },
  "used-over-stock": (s) => {
    opened(s);
    const massG = s.opening.grain[0].massG;
    s.records.runs.push({
      ...RUN,
      draws: [{ ...RUN.draws[0], massG: Math.ceil(massG * 1.002) }],
      steepInAt: `${day(-3)}T08:00`,
    });
  },
  "seed-over-stock": (s) =>
    s.seedReserves = [{ id: "seed-one", lotId: "lot-one", massG: s.opening.grain[0].massG, on: day(3) }, {
      id: "seed-two",
      lotId: "lot-one",
      massG: 1,
      on: day(4),
    }],
  "record-before-position": (s) =>
    s.records.runs.push(recordedRun(`${day(-9)}T08:00`, { endedAt: `${day(-8)}T08:00`, outcome: "dumped" })),
  "window-past-horizon": (s) => s.brews[3].latest = day(43),
  "same-weight-twice": (s) => {
    s.stores.push({ ...s.stores[0], id: "bin-three" });
    s.opening.grain.push({ ...s.opening.grain[0], storeId: "bin-three" });
  },
  "stock-after-position": (s) => s.opening.malt[0].madeOn = s.opening.malt[0].readyOn = day(1),
  "harvest-past-plan": (s) => sow(s, { harvest: { early: day(127), likely: day(127), late: day(127) } }),
  implausible: (s) => s.beers[0].brewhouseEfficiency = 0.4,
  "rotation-cereals": (s) => {
    sow(s);
    s.fields[0].cropHistory = [{ year: year - 1, crop: "winter wheat" }, { year: year - 2, crop: "oats" }];
  },
  "rotation-corn": (s) => {
    sow(s);
    s.fields[0].cropHistory = [{ year: year - 1, crop: "silage corn" }];
  },
  "area-over-field": (s) => sow(s, { areaM2: 6000 }),
  "lot-untested": (s) => {
    s.lots[0].analyses = [];
    s.lots[0].wakesOn = { early: today, likely: today, late: today };
  },
  "lot-unfit": (s) => s.lots[0].analyses[0].donPpm = 1.1,
  "lot-awaiting": (s) => s.lots[0].analyses.push({ id: "second-test", sampledOn: today, expectedOn: day(5) }),
  "lot-never-wakes": (s) => s.lots[0].analyses[0].germinativeEnergy = 0.94,
  "lot-too-old": (s) => s.lots[0].useBy = { on: day(-1), reason: "sprouted" },
  "forecast-without-source": (s) =>
    s.lots.push({ ...newLot, wakesOn: { early: day(1), likely: day(1), late: day(1) } }),
  "harvest-before-position": (s) => sow(s, { harvest: { early: day(-9), likely: day(-8), late: day(-7) } }),
  "harvest-overdue": (s) => {
    opened(s);
    sow(s, { harvest: { early: day(-9), likely: day(-8), late: day(-7) } });
  },
  "delivery-overdue": (s) => {
    opened(s);
    s.lots.push({ ...newLot, wakesOn: { early: day(1), likely: day(1), late: day(1) } });
    s.contracts.push({
      kind: "buy-grain",
      id: "contract",
      party: "a seller",
      lotId: "lot-new",
      massG: 1000,
      on: day(-1),
      perTonneCents: 1,
    });
  },
  "booking-overdue": (s) => {
    opened(s);
    s.bookings.runs.push(bookedRun(-2));
  },
  "booked-run-awaiting": (s) => {
    // Whoever books a run of an awaiting lot hears of both.
    s.lots[0].analyses.push({ id: "second-test", sampledOn: today, expectedOn: day(5) });
    s.bookings.runs.push(bookedRun(7));
  },
  "brew-not-recorded": (s) => {
    opened(s);
    Object.assign(s.brews[0], { earliest: day(-3), on: day(-3), latest: day(-3) });
  },
  "no-lots": (s) => {
    s.lots = [];
    s.opening.grain = [];
    s.beers[1].requires = [];
    s.seedReserves = [];
  },
  "no-brews": (s) => s.brews = [],
  "no-vessels": (s) => s.vessels.pop(),
  "no-fields": (s) => s.fields = [],
  "no-tanks": (s) => {
    s.tanks = [];
    s.opening.tanks = [];
  },
  "beer-without-malt": (s) => {
    s.beers[0].grist = [];
  },
  "malt-without-lot": (s) => s.maltTypes[1].made.crops = ["rye"],
  "drum-not-planned": (s) => {
    s.maltTypes[1].made = {
      from: "malt",
      maltId: s.maltTypes[0].id,
      weightLoss: 0.1,
      leastG: 10_000,
      greatestG: 100_000,
      drumHours: 4,
      runCents: 5000,
    };
  },
  "nobody-there": (s) => s.people[0].away = [{ from: day(0), to: day(400), reason: "away" }],
  "all-bins-full": (s) => {
    sow(s);
    s.stores.pop();
  },
};

/** A finding that cannot come alone. */
const COMPANY: Partial<Record<FindingCode, FindingCode[]>> = { "booked-run-awaiting": ["lot-awaiting"] };

const codesOf = (findings: readonly Finding[]) => [...new Set(findings.map((one) => one.code))];

describe("season check", () => {
  test("has nothing to say about the base season", () => {
    expect(checkSeason(base)).toEqual({ season: base, findings: [] });
  });

  for (const [code, change] of Object.entries(PROVOKED) as [FindingCode, (season: Loose) => void][]) {
    test(`finds ${code}, and only that`, () => {
      const season: Loose = structuredClone(base);
      change(season);
      const { season: given, findings } = checkSeason(season);
      expect(codesOf(findings).sort()).toEqual([code, ...(COMPANY[code] ?? [])].sort());
      const found = findings.find((one) => one.code === code)!;
      expect(found.level).toBe(FINDING_LEVELS[code]);
      for (const words of [found.thing, found.value, found.limit, found.message, found.wayOut]) {
        expect(words).toMatch(/\S/);
        expect(words).not.toMatch(/undefined|NaN|\[object/);
      }
      expect(given === null).toBe(found.level === "error");
    });
  }

  test("every code is provoked here or by what is no season at all", () => {
    const byOther: FindingCode[] = ["not-a-season"];
    expect([...Object.keys(PROVOKED), ...byOther].sort()).toEqual(Object.keys(FINDING_LEVELS).sort());
  });
});

describe("words of findings", () => {
  const only = (change: (season: Loose) => void) => {
    const season: Loose = structuredClone(base);
    change(season);
    return checkSeason(season).findings[0]!;
  };

  test("names the thing as the farm does and the field as a JSON Pointer", () => {
    const found = only((s) => s.lots[1].analyses[0].germinativeEnergy = 96);
    expect(found.thing).toBe('lot "Second made lot" (lot-two), analysis test-two');
    expect(found.field).toBe("/lots/1/analyses/0/germinativeEnergy");
    expect(found.wayOut).toBe("Do you mean per cent? Here it is written in fractions of one: 0.96.");
  });

  test("suggests the field and the id that were probably meant", () => {
    expect(only((s) => s.lots[0].moistureWB = 0.12).wayOut).toContain('"moistureWb"');
    expect(only((s) => s.lots[0].crop = "barly").wayOut).toContain('"barley"');
    expect(only((s) => s.brews[0].beerId = "beer-on").wayOut).toContain('"beer-one"');
  });

  test("asks about pounds only where it fits and the reader thinks in them", () => {
    const pack = (s: Loose, units: string) => {
      s.readerUnits = units;
      s.supplyOffers[0].packG = 55;
    };
    expect(only((s) => pack(s, "us")).wayOut).toMatch(/^Do you mean lb\? .*: 24950\./);
    expect(only((s) => pack(s, "metric")).wayOut).toMatch(/^Do you mean kg\?/);
    expect(only((s) => s.supplyOffers[0].packG = 900).wayOut).not.toContain("mean");
  });

  test("asks about a specific gravity where degrees Plato are wanted", () => {
    expect(only((s) => s.beers[0].gravityP = 1.048).wayOut).toMatch(/specific gravity\? .*: 11\.9/);
  });
});

describe("all findings at once", () => {
  test("faults in the shape of some rows do not hide faults of the others, whose places are those of the file", () => {
    const season: Loose = structuredClone(base);
    season.brews[0].class = "first";
    season.brews[2].beerId = "beer-none";
    season.records.moves.push({ id: "moved" });
    season.colour = "red";
    const { findings } = checkSeason(season);
    expect(codesOf(findings).sort()).toEqual([
      "missing-field",
      "unknown-field",
      "unknown-reference",
      "wrong-type",
    ]);
    expect(findings.find((one) => one.code === "unknown-reference")).toMatchObject({
      thing: "brew brew-3",
      field: "/brews/2/beerId",
      value: "beer-none",
    });
  });

  test("a row that cannot be read is not missed a second time by what refers to it", () => {
    const season: Loose = structuredClone(base);
    season.beers[0].gravityP = null;
    expect(codesOf(checkSeason(season).findings)).toEqual(["wrong-type"]);
  });

  test("errors come first", () => {
    const season: Loose = structuredClone(base);
    season.fields = [];
    season.maltTypes[0].made.culmMoistureWb = 1;
    expect(checkSeason(season).findings.map((one) => one.level)).toEqual(["error", "warning"]);
  });
});

describe("order", () => {
  test("a fixed day has both its ends alike, a closure cannot", () => {
    const season: Loose = structuredClone(base);
    Object.assign(season.brews[0], { earliest: season.brews[0].on, latest: season.brews[0].on });
    season.tanks[0].closures = [{ from: `${day(3)}T00:00`, to: `${day(3)}T00:00`, reason: "repair" }];
    expect(checkSeason(season).findings.map((one) => one.field)).toEqual(["/tanks/0/closures/0/to"]);
  });
});

describe("each place of which one rule speaks", () => {
  const fields = (code: FindingCode, change: (season: Loose) => void) => {
    const season: Loose = structuredClone(base);
    change(season);
    return checkSeason(season).findings.filter((one) => one.code === code).map((one) => one.field);
  };

  test("an extract that is nothing, or all of it, is impossible for a malt and for a lot's malt", () => {
    for (const extract of [0, 1]) {
      expect(fields("impossible-value", (s) => {
        s.maltTypes[0].extractCoarseDb = extract;
        s.lots[1].maltExtractDb = extract;
      })).toEqual(["/lots/1/maltExtractDb", "/maltTypes/0/extractCoarseDb"]);
    }
  });

  test("a run draws something", () => {
    expect(fields("impossible-value", (s) => {
      opened(s);
      const draws = [{ ...RUN.draws[0], massG: 0 }];
      s.records.runs.push({ ...recordedRun(`${day(-3)}T08:00`), draws });
      s.bookings.runs.push({ ...bookedRun(7), id: "run-two", draws });
    })).toEqual(["/records/runs/0/draws/0/massG", "/bookings/runs/0/draws/0/massG"]);
  });

  test("a lot, a batch and a beer cannot have been counted before they came; a lot of which nothing was counted can", () => {
    expect(fields("stock-after-position", (s) => {
      s.lots[0].formedOn = day(1);
      s.lots.push({ ...s.lots[0], id: "lot-later" });
      Object.assign(s.opening.malt[0], { madeOn: day(1), readyOn: day(1) });
      s.opening.tanks = [{ tankId: "tank-one", what: "beer", volumeL: 1, since: day(1), freeOn: day(2) }];
    })).toEqual(["/lots/0/formedOn", "/opening/malt/0/madeOn", "/opening/tanks/0/since"]);
  });

  test("a field is drilled before it is cut", () => {
    expect(fields("window-upside-down", (s) => sow(s, { drillOn: day(28) }))).toEqual([
      "/plantings/0/harvest",
    ]);
  });

  test("bins full to the eave are told even when no grain is to come, bins nearly full are not", () => {
    const fill = (share: number) => (season: Loose) => {
      for (const [i, row] of season.opening.grain.entries()) {
        row.massG = Math.floor(
          season.stores[i].shape.volumeL * season.lots[i].testWeightKgPerHl * 10 * share,
        );
      }
    };
    expect(fields("all-bins-full", fill(0.995))).toEqual(["/stores"]);
    expect(fields("all-bins-full", fill(0.98))).toEqual([]);
  });

  test("seed is weighed against what comes by its day, a harvest as well as stock", () => {
    const seed = (after: number, massG: number) => (s: Loose) => {
      sow(s);
      s.seedReserves = [{ id: "seed", lotId: "lot-new", massG, on: day(after) }];
    };
    expect(fields("seed-over-stock", seed(29, 1))).toEqual(["/seedReserves/0/massG"]);
    expect(fields("seed-over-stock", seed(30, 1_000_000))).toEqual([]);
    expect(fields("seed-over-stock", seed(30, 2_000_000))).toEqual(["/seedReserves/0/massG"]);
  });
});

describe("lots that are gone", () => {
  test("have nothing said about them", () => {
    const season: Loose = structuredClone(base);
    season.lots.push({ ...season.lots[0], id: "lot-gone", analyses: [] });
    expect(checkSeason(season).findings).toEqual([]);
  });
});

describe("ancestry", () => {
  test("by a mix counts like ancestry by parents", () => {
    const season: Loose = structuredClone(base);
    season.lots[0].parents = [{ kind: "lot", lotId: "lot-two", massG: 1 }];
    season.records.mixes.push({
      id: "mix",
      on: today,
      parents: [{ lotId: "lot-one", storeId: "bin-one", massG: 0 }],
      intoLotId: "lot-two",
      storeId: "bin-two",
    });
    expect(codesOf(checkSeason(season).findings)).toEqual(["lot-cycle"]);
  });
});

describe("the minute of the check", () => {
  test("is the caller's, else the fixed one, else the file's", () => {
    const season: Loose = structuredClone(base);
    season.lots[0].useBy = { on: day(5), reason: "sprouted" };
    const old = (one: Loose, asOf?: string) =>
      codesOf(checkSeason(one, asOf === undefined ? {} : { asOf }).findings).includes("lot-too-old");
    expect(old(season)).toBe(false);
    expect(old(season, `${day(6)}T06:00`)).toBe(true);
    expect(old({ ...season, fixedAsOf: `${day(6)}T06:00` })).toBe(true);
    expect(old({ ...season, fixedAsOf: `${day(6)}T06:00` }, season.asOf)).toBe(false);
  });
});

describe("recorded use against the book", () => {
  const use = (part: number, adjustG: number) => {
    const season: Loose = structuredClone(base);
    opened(season);
    const massG = season.opening.grain[0].massG;
    season.records.runs.push({
      ...recordedRun(`${day(-3)}T08:00`),
      draws: [{ ...RUN.draws[0], massG: Math.floor(massG * part) }],
    });
    if (adjustG !== 0) {
      season.records.adjustments.push({
        id: "counted",
        on: day(-1),
        lotId: "lot-one",
        storeId: "bin-one",
        deltaG: adjustG,
        reason: "bin swept",
      });
    }
    return codesOf(checkSeason(season).findings);
  };

  test("0.1 % over is let pass, more asks for an adjustment, and an adjustment settles it", () => {
    expect(use(1.0009, 0)).not.toContain("used-over-stock");
    expect(use(1.0011, 0)).toContain("used-over-stock");
    expect(use(1.0011, 100_000)).not.toContain("used-over-stock");
  });

  test("a run that was under way when the stocks were counted took its grain before", () => {
    const season: Loose = structuredClone(base);
    const draw = { ...RUN.draws[0], massG: 2 * season.opening.grain[0].massG };
    season.records.runs.push({ ...recordedRun(`${day(-2)}T08:00`), draws: [draw] });
    expect(checkSeason(season).findings).toEqual([]);
  });

  test("malt is counted batch by batch", () => {
    const season: Loose = structuredClone(base);
    opened(season);
    const [brew] = season.brews;
    Object.assign(brew, { beerId: "beer-one", earliest: day(-2), on: day(-2), latest: day(-2) });
    season.records.brews.push({
      brewId: brew.id,
      on: day(-2),
      tanks: [{ tankId: "tank-two", volumeL: 500 }],
      grist: [{
        lineId: "beer-one-line",
        from: { kind: "batch", batchId: "old-batch" },
        massG: season.opening.malt[0].massG + 1000,
      }],
    });
    const found = checkSeason(season).findings.find((one) => one.code === "used-over-stock");
    expect(found?.field).toBe("/records/brews/0/grist/0");
    expect(found?.message).toContain("1 kg more of old-batch");
  });
});

describe("what a file holds", () => {
  test.each([null, [], 7, "season"])("%j is no season", (value) => {
    expect(codesOf(checkSeason(value).findings)).toEqual(["not-a-season"]);
  });

  test("a good season, written and read again, is the season", () => {
    expect(checkSeason(JSON.parse(JSON.stringify(base))).season).toEqual(base);
  });
});
