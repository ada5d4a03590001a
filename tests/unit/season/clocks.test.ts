import { describe, expect, test } from "vitest";
import { addDays, dayNumber } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { lastDayAbove } from "../../../core/physics/viability.ts";
import { latestEnergy, lotClock } from "../../../core/season/clocks.ts";
import type { Analysis, Lot } from "../../../core/season/grain.ts";
import type { MadeFromGrain, MaltType } from "../../../core/season/malthouse.ts";
import type { Season } from "../../../core/season/season.ts";

const base = microSeason(13, "plain");
const today = base.asOf.slice(0, 10);
const at = (after: number) => dayNumber(today) + after;
const on = (after: number) => addDays(today, after);
const whenever = at(42 + 84 + 1);

const tested = (after: number, more: Partial<Analysis> = {}): Analysis => ({
  id: `test-${after}`,
  sampledOn: on(after - 4),
  resultOn: on(after),
  ...more,
});
const awaited = (expected?: number): Analysis => ({
  id: "awaited",
  sampledOn: on(-1),
  ...(expected === undefined ? {} : { expectedOn: on(expected) }),
});
const lot = (more: Partial<Lot> = {}): Lot => {
  const { useBy: _useBy, wakesOn: _wakesOn, ...plain } = base.lots[0]!;
  return { ...plain, analyses: [tested(-9, { germinativeEnergy: 0.97 })], ...more };
};
const malt = (acceptance: Partial<MadeFromGrain["acceptance"]> = {}): MaltType => {
  const one = base.maltTypes[0]!;
  const made = one.made as MadeFromGrain;
  return { ...one, made: { ...made, acceptance: { ...made.acceptance, ...acceptance } } };
};
const clock = (one: Lot, kind = malt(), season: Season = base, asOf = season.asOf) =>
  lotClock(season, one, kind, asOf);

describe("what a lot may become", () => {
  test("a tested, sound lot is awake since its result", () => {
    expect(clock(lot())).toEqual({
      firstDay: at(-9),
      lastDay: whenever,
      blockedBy: null,
      awaitedUntil: null,
    });
  });

  test("a lot that wakes after the plan's end will be awake, unless it may not be used so late", () => {
    const late = { analyses: [], wakesOn: { early: on(150), likely: on(160), late: on(170) } };
    expect(clock(lot(late))).toMatchObject({ firstDay: at(170), lastDay: at(170), blockedBy: null });
    const useBy = { on: on(165), reason: "promised away" };
    expect(clock(lot({ ...late, useBy }))).toMatchObject({ firstDay: null, blockedBy: "too old" });
  });

  test.each<[string, Partial<Lot>]>([
    ["another crop", { crop: "rye" }],
    ["feed", { use: "feed" }],
    ["held grain", { use: "held" }],
    ["raw grain", { use: "raw" }],
    ["treated seed", { treatedSeed: true }],
    ["somebody else's grain", { owner: "a neighbour" }],
    ["grain with toxin", { analyses: [tested(-9, { germinativeEnergy: 0.97, donPpm: 1.1 })] }],
  ])("%s is not suitable", (_, more) => {
    expect(clock(lot(more))).toMatchObject({ firstDay: null, blockedBy: "not suitable" });
  });

  test("somebody's grain may be malted when a malt contract lists it", () => {
    const contract: Season["contracts"][number] = {
      kind: "sell-malt",
      id: "made-for",
      party: "a neighbour",
      maltId: "malt-one",
      massG: 1,
      from: today,
      to: today,
      perTonneCents: 1,
      class: 1,
      lotIds: ["lot-one"],
    };
    const season = { ...base, contracts: [contract] };
    expect(clock(lot({ owner: "a neighbour" }), malt(), season).blockedBy).toBeNull();
  });

  test("only the latest measured value counts, and one not measured is not held against it", () => {
    const results = [
      tested(-9, { germinativeEnergy: 0.97, proteinDb: 0.14 }),
      tested(-5, { proteinDb: 0.11 }),
      tested(-2, { donPpm: 0.2 }),
    ];
    const strict = malt({ proteinDbMost: 0.12, plumpLeast: 0.9 });
    expect(clock(lot({ analyses: results }), strict).blockedBy).toBeNull();
    // The order in the file is not the order in which results came.
    expect(clock(lot({ analyses: results.toReversed() }), strict).blockedBy).toBeNull();
    expect(clock(lot({ analyses: [...results, tested(-1, { plump: 0.89 })] }), strict).blockedBy).toBe(
      "not suitable",
    );
  });

  test("malt that is bought or made in the drum has no clock", () => {
    expect(clock(lot(), { ...malt(), made: { from: "bought" } }).blockedBy).toBe("not suitable");
  });
});

describe("when a lot wakes", () => {
  const asleep = tested(-9, { germinativeEnergy: 0.94 });
  const wakesOn = { early: on(3), likely: on(8), late: on(13) };

  test("by the first energy that passes, not by the date that was guessed", () => {
    const analyses = [
      asleep,
      tested(-3, { germinativeEnergy: 0.95 }),
      tested(-1, { germinativeEnergy: 0.98 }),
    ];
    expect(clock(lot({ analyses, wakesOn })).firstDay).toBe(at(-3));
  });

  test("else on the late date that was judged", () => {
    expect(clock(lot({ analyses: [asleep], wakesOn })).firstDay).toBe(at(13));
    expect(clock(lot({ analyses: [], wakesOn })).firstDay).toBe(at(13));
  });

  test("else, still to come, after the late rest of its sleepiest harvest; else never", () => {
    const harvested = {
      ...microSeason(13, "plain"),
      plantings: [planting("one", 20, 30), planting("two", 25, 10)],
    };
    const forecast = lot({ analyses: [], forecast: true });
    const season = { ...harvested, lots: [forecast] };
    expect(clock(forecast, malt(), season).firstDay).toBe(at(50));
    const weighed = lot({ analyses: [] });
    expect(clock(weighed, malt(), { ...season, lots: [weighed] })).toMatchObject({
      firstDay: null,
      blockedBy: "not awake",
    });
    expect(clock(lot({ analyses: [asleep] }))).toMatchObject({ firstDay: null, blockedBy: "not awake" });
  });

  test("a lot that passed once and fails now is spent", () => {
    const analyses = [tested(-9, { germinativeEnergy: 0.97 }), tested(-1, { germinativeEnergy: 0.94 })];
    expect(clock(lot({ analyses, wakesOn }))).toMatchObject({ firstDay: null, blockedBy: "too old" });
  });

  test("a spent lot was fit until the day before its last result, or until its date if that came earlier", () => {
    const analyses = [tested(-9, { germinativeEnergy: 0.97 }), tested(-1, { germinativeEnergy: 0.94 })];
    expect(clock(lot({ analyses })).lastDay).toBe(at(-2));
    expect(clock(lot({ analyses, useBy: { on: on(-5), reason: "sprouted" } })).lastDay).toBe(at(-5));
  });

  function planting(id: string, after: number, late: number): Season["plantings"][number] {
    return {
      id,
      fieldIds: ["field"],
      areaM2: 1000,
      crop: "barley",
      varietyClass: "malting",
      sowingSeason: "spring",
      harvestYear: 2027,
      state: "sown",
      drillOn: on(-90),
      yieldKgPerHa: { bad: 1, likely: 1000, good: 2000 },
      moistureAtHarvestWb: 0.15,
      harvest: { early: on(after), likely: on(after), late: on(after) },
      dryToWb: 0.12,
      handlingLoss: 0,
      intakeCleaningLoss: 0,
      testWeightKgPerHl: 62,
      restAfterHarvestDays: { early: 0, likely: 0, late },
      lotId: "lot-one",
    };
  }
});

describe("a lot that awaits a result", () => {
  const passed = tested(-9, { germinativeEnergy: 0.97 });

  test("may be proposed from the latest expected day on", () => {
    expect(clock(lot({ analyses: [passed, awaited(4), { ...awaited(9), id: "third" }] }))).toMatchObject({
      firstDay: at(9),
      blockedBy: null,
      awaitedUntil: at(9),
    });
  });

  test("is never proposed while a result has no day", () => {
    expect(clock(lot({ analyses: [passed, awaited(4), { ...awaited(), id: "third" }] }))).toMatchObject({
      firstDay: null,
      blockedBy: "awaiting result",
      awaitedUntil: null,
    });
  });

  test("values of a result that has not come do not count", () => {
    const analyses = [passed, { ...awaited(4), donPpm: 9 }];
    expect(clock(lot({ analyses })).blockedBy).toBeNull();
  });
});

describe("a lot's last day", () => {
  test("is its date, and is enough to block it", () => {
    const useBy = (after: number) => lot({ useBy: { on: on(after), reason: "sprouted" } });
    expect(clock(useBy(6))).toMatchObject({ firstDay: at(-9), lastDay: at(6), blockedBy: null });
    expect(clock(useBy(0)).blockedBy).toBeNull();
    expect(clock(useBy(-1))).toMatchObject({ firstDay: null, blockedBy: "too old" });
  });

  test("is at most the day after the plan's end", () => {
    expect(clock(lot({ useBy: { on: on(500), reason: "sprouted" } })).lastDay).toBe(whenever);
  });

  test("comes from capacity rather than energy, and from the store it lay in first", () => {
    const hot = { ...base.stores[0]!, id: "hot", monthTempC: Array.from({ length: 12 }, () => 25) };
    const damp = lot({
      moistureWb: 0.15,
      analyses: [tested(-9, { germinativeEnergy: 0.96, germinativeCapacity: 0.94 })],
    });
    const lie = (storeId: string): Season => ({
      ...base,
      stores: [...base.stores, hot],
      opening: { ...base.opening, grain: [{ lotId: damp.id, storeId, massG: 1 }] },
    });
    const until = lastDayAbove(at(-9), 0.94, 0.9, 0.15, hot.monthTempC, "barley", whenever);
    expect(clock(damp, malt(), lie("hot")).lastDay).toBe(until);
    expect(until).toBeLessThan(at(30));
    expect(clock(damp, malt(), lie("bin-one")).lastDay).toBeGreaterThan(until);
  });

  test("never breaks on results at the ends of the scale, nor on grain outside the formula", () => {
    const dead = lot({ analyses: [tested(-9, { germinativeEnergy: 0.97, germinativeCapacity: 0 })] });
    expect(clock(dead).blockedBy).toBe("too old");
    expect(
      clock(lot({ analyses: [tested(-9, { germinativeEnergy: 1 })] }), malt({ germinationAtSteepLeast: 0 }))
        .lastDay,
    )
      .toBe(whenever);
    expect(clock(lot(), malt({ germinationAtSteepLeast: 1 })).blockedBy).toBe("too old");
    expect(clock(lot({ moistureWb: 0.4 })).lastDay).toBeLessThan(whenever);
    expect(clock(lot(), malt(), { ...base, stores: [] }).lastDay).toBe(whenever);
  });
});

test("of several energies the latest by date counts, however the file lists them", () => {
  const energies = [tested(-2, { germinativeEnergy: 0.9 }), tested(-9, { germinativeEnergy: 0.97 })];
  expect(latestEnergy(lot({ analyses: energies }))).toBe(0.9);
  expect(latestEnergy(lot({ analyses: [awaited()] }))).toBeNull();
});
