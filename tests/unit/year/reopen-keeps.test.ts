/** What must not get lost when a season is entered anew on a later day. */
import { describe, expect, test } from "vitest";
import { descends } from "../../../core/season/ancestry.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { donPpmOf, holdsTreatedSeed, maltIsLocked } from "../../../core/season/lock.ts";
import type { Season, SeasonFile } from "../../../core/season/season.ts";
import { reopenAt } from "../../../core/year/reopen.ts";
import { stateAt } from "../../../core/year/state-at.ts";
import { farm, planWith, run } from "./hand-made.ts";

const errors = (season: Season) =>
  checkSeason(season, { asOf: season.asOf }).findings.filter((one) => one.level === "error")
    .map((one) => `${one.code} ${one.field}`);
const lotOf = (season: Season, id: string) => season.lots.find((one) => one.id === id)!;
const LATER = "2027-03-02";

/** A farm that tipped lots together before as-of. */
function mixed(mixes: NonNullable<SeasonFile["records"]["mixes"]>, other: Partial<Season> = {}): Season {
  const season = farm({ positionAt: "2027-01-04T00:00", records: { mixes } });
  const plain = { ...lotOf(season, "lot-a"), parents: [], analyses: [] };
  return {
    ...season,
    lots: [...season.lots, { ...plain, id: "mix", letter: "M", formedOn: "2027-01-10", name: "the mix" }],
    ...other,
  };
}

const tipped = (
  id: string,
  on: string,
  lotId: string,
  storeId: string,
  massG: number,
  intoLotId = "mix",
) => ({
  id,
  on,
  parents: [{ lotId, storeId, massG }],
  intoLotId,
  storeId: "bin-2",
});

describe("grain that was tipped together", () => {
  const both = [
    tipped("mix-1", "2027-01-10", "lot-c", "bin-2", 3_000_000),
    tipped("mix-2", "2027-01-10", "lot-a", "bin-1", 2_000_000),
    tipped("mix-3", "2027-01-12", "lot-a", "bin-1", 1_000_000),
  ];

  test("keeps its parents, with the weights that the records name", () => {
    const later = reopenAt(mixed(both), planWith(), LATER);
    expect(errors(later)).toEqual([]);
    expect(lotOf(later, "mix").parents).toEqual([
      { kind: "lot", lotId: "lot-c", massG: 3_000_000 },
      { kind: "lot", lotId: "lot-a", massG: 3_000_000 },
    ]);
    expect(later.opening.grain).toContainEqual({ lotId: "mix", storeId: "bin-2", massG: 6_000_000 });
    expect(descends(later, "mix", "field", ["long"], false)).toBe(
      descends(mixed(both), "mix", "field", ["long"], false),
    );
  });

  test("is not counted twice where the lot names the parents it was formed of", () => {
    const season = mixed(both);
    const named = (massG: number) => ({
      ...season,
      lots: season.lots.map((one): Season["lots"][number] =>
        one.id === "mix" ? { ...one, parents: [{ kind: "lot", lotId: "lot-a", massG }] } : one
      ),
    });
    const weights = (massG: number) =>
      lotOf(reopenAt(named(massG), planWith(), LATER), "mix").parents.map((one) =>
        one.kind === "lot" ? [one.lotId, one.massG] : []
      );
    expect(weights(2_000_000)).toEqual([["lot-c", 3_000_000], ["lot-a", 3_000_000]]);
    expect(weights(2_500_000)).toEqual([["lot-c", 3_000_000], ["lot-a", 3_500_000]]);
  });

  test("is judged by the worst of everything in it, as before", () => {
    const season = mixed(both);
    const bad: Season = {
      ...season,
      lots: season.lots.map((one) =>
        one.id !== "lot-c" ? one : {
          ...one,
          treatedSeed: true,
          analyses: [{ id: "toxin", sampledOn: "2026-12-01", resultOn: "2026-12-09", donPpm: 2.4 }],
        }
      ),
    };
    const later = reopenAt(bad, planWith(), LATER);
    for (const one of [bad, later]) {
      expect([donPpmOf(one, lotOf(one, "mix")), holdsTreatedSeed(one, lotOf(one, "mix"))]).toEqual([
        2.4,
        true,
      ]);
      expect(maltIsLocked(one, "pale", ["mix"])).toBe(true);
    }
  });

  test("is unmixed only as far as it was: grain of which nobody wrote down the origin stays so", () => {
    const season = mixed([tipped("mix-1", "2027-01-10", "lot-a", "bin-1", 2_000_000)], {
      opening: {
        ...farm().opening,
        grain: [
          { lotId: "lot-a", storeId: "bin-1", massG: 10_000_000 },
          { lotId: "mix", storeId: "bin-2", massG: 500_000 },
        ],
      },
    });
    const fields = season.fields.map((one) => one.id);
    const later = reopenAt(season, planWith(), LATER);
    for (const one of [season, later]) {
      expect([descends(one, "mix", "field", fields, false), descends(one, "mix", "field", fields, true)])
        .toEqual([true, false]);
    }
  });

  test("that came into a lot which a beer wants unmixed is still known to have come later", () => {
    const season = mixed(both.slice(0, 2).concat(tipped("mix-3", "2027-01-12", "lot-a", "bin-1", 1_000_000)));
    const beer = {
      ...season.beers[0]!,
      requires: [{ kind: "lot" as const, ids: ["mix"], leastShare: 1, unmixed: true }],
    };
    const asked: Season = { ...season, beers: [beer] };
    const later = reopenAt(asked, planWith(), LATER);
    for (const one of [asked, later]) expect(descends(one, "mix", "lot", ["mix"], true)).toBe(false);
    expect(errors(later)).toEqual([]);
    expect(later.opening.grain).toContainEqual({ lotId: "mix", storeId: "bin-2", massG: 6_000_000 });
  });
});

describe("a contract that was met in part", () => {
  const sale = {
    kind: "sell-grain" as const,
    id: "sale",
    party: "A neighbour",
    lotId: "lot-a",
    massG: 4_000_000,
    from: "2027-01-18",
    to: "2027-06-30",
    perTonneCents: 20_000,
  };
  const delivered = (massG: number, on: string) =>
    planWith({ grainDeliveries: [{ contractId: "sale", on, lotId: "lot-a", storeId: "bin-1", massG }] });

  test("stays with the weight that is left of it", () => {
    const season = farm({
      contracts: [sale],
      records: {
        deliveries: [{
          id: "d",
          contractId: "sale",
          on: "2027-01-18",
          lotId: "lot-a",
          storeId: "bin-1",
          massG: 1_000_000,
        }],
      },
    });
    const left = (massG: number, on = "2027-02-01") =>
      reopenAt(season, delivered(massG, on), LATER).contracts.map((one) => one.massG);
    expect(left(1_500_000)).toEqual([1_500_000]);
    expect(left(3_000_000)).toEqual([]);
    expect(left(3_000_000, LATER)).toEqual([3_000_000]);
  });

  test("goes when its last day is over, whatever is left", () => {
    expect(reopenAt(farm({ contracts: [sale] }), planWith(), "2027-06-30").contracts).toEqual([sale]);
    expect(reopenAt(farm({ contracts: [sale] }), planWith(), "2027-07-01").contracts).toEqual([]);
  });
});

test("book values follow their rows when rows before them go, and go with their own", () => {
  const [pickup] = farm().feedPickups;
  const season = farm({
    feedPickups: [{ ...pickup!, id: "first", mostLoads: 1 }, { ...pickup!, id: "second" }],
    seedReserves: [
      { id: "seed-1", lotId: "lot-a", massG: 1, on: "2027-02-01" },
      { id: "seed-2", lotId: "lot-a", massG: 1, on: "2027-04-01" },
    ],
    bookValues: [
      "/feedPickups/0/haulageCents",
      "/feedPickups/1/haulageCents",
      "/seedReserves/1/massG",
      "/opening/malt/0/extractAsIs",
      "/stores/1/monthTempC/3",
      "/costs/moveLoss",
    ],
  });
  const plan = planWith({
    feedLoads: [{
      id: "load",
      standing: "not booked",
      pickupId: "first",
      on: "2027-02-08",
      items: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
      revenueCents: 1,
    }],
  });
  expect(reopenAt(season, plan, LATER).bookValues).toEqual([
    "/feedPickups/0/haulageCents",
    "/seedReserves/0/massG",
    "/opening/malt/0/extractAsIs",
    "/stores/1/monthTempC/3",
    "/costs/moveLoss",
  ]);
});

describe("malt and runs", () => {
  const stripped = {
    ...run("r0", "2027-01-05"),
    outcome: "held" as const,
    outputs: [{ batchId: "held-malt", maltId: "pale", massG: 800_000 }],
  };
  const { standing: _, screeningsG: _s, cleanG: _c, culmsG: _u, ...held } = stripped;

  test("malt that is held for a result is in the new season too, and cannot be brewed there", () => {
    const season = farm({ positionAt: "2027-01-04T00:00", records: { runs: [held] } });
    const later = reopenAt(season, planWith(), LATER);
    expect(errors(later)).toEqual([]);
    const batch = later.opening.malt.find((one) => one.id === "held-malt")!;
    expect([batch.massG, batch.bestBefore < LATER]).toEqual([800_000, true]);
  });

  test("a run that is stripped at midnight is on the kiln until then, and is not lost in that minute", () => {
    const plan = planWith({ runs: [run("r1", "2027-02-22", { stripAt: `${LATER}T00:00` })] });
    expect(stateAt(farm(), plan, `${LATER}T00:00`).vessels.map((one) => one.stage)).toEqual(["kiln"]);
    expect(reopenAt(farm(), plan, LATER).records.runs.map((one) => one.id)).toEqual(["r1"]);
  });

  test("a record that goes on keeps who wrote it and why", () => {
    const { castAt: _1, kilnAt: _2, stripAt: _3, outcome: _4, ...begun } = {
      ...held,
      id: "r1",
      steepInAt: "2027-01-18T06:00",
      outputs: [],
      by: "maltster",
      note: "slow to take water",
    };
    const later = reopenAt(farm({ records: { runs: [begun] } }), null, "2027-01-22");
    expect(later.records.runs).toMatchObject([{ by: "maltster", note: "slow to take water" }]);
    expect(later.records.runs[0]!.castAt).toBe("2027-01-20T06:00");
  });
});

describe("grain in store, as an opening position may say it", () => {
  const count = (id: string, lotId: string, storeId: string, deltaG: number) => ({
    id,
    on: "2027-01-12",
    lotId,
    storeId,
    deltaG,
    reason: "swept",
  });

  test("what the book leaves of a lot that was swept out is no second lot in the bin", () => {
    const left = (restG: number) =>
      reopenAt(
        farm({
          records: {
            adjustments: [count("a", "lot-c", "bin-2", restG - 3_000_000)],
            moves: [{
              id: "m",
              on: "2027-01-16",
              lotId: "lot-a",
              fromStoreId: "bin-1",
              toStoreId: "bin-2",
              massG: 6_000_000,
              lossG: 0,
            }],
          },
        }),
        planWith(),
        LATER,
      );
    expect(left(3_000).opening.grain.map((one) => [one.lotId, one.storeId])).toEqual([
      ["lot-a", "bin-1"],
      ["lot-a", "bin-2"],
    ]);
    expect(errors(left(3_000))).toEqual([]);
    // More than a thousandth is grain, and the check has to ask about it.
    expect(left(3_001).opening.grain).toHaveLength(3);
  });

  test("one lot has not the same weight twice", () => {
    const move = {
      id: "m",
      on: "2027-01-16",
      lotId: "lot-a",
      fromStoreId: "bin-1",
      toStoreId: "bin-2",
      lossG: 0,
    };
    const later = reopenAt(
      farm({
        opening: { grain: [{ lotId: "lot-a", storeId: "bin-1", massG: 10_000_000 }] },
        records: { moves: [{ ...move, massG: 5_000_000 }] },
      }),
      planWith(),
      LATER,
    );
    expect(later.opening.grain.map((one) => one.massG)).toEqual([5_000_000, 4_999_999]);
    expect(errors(later)).toEqual([]);
  });
});
