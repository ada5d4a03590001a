/** A next season begun at as-of, by the records alone: what was done by that minute is done, all else is to come. */
import { expect, test } from "vitest";
import { nextSeason } from "../../../core/next/next-season.ts";
import { checkSeason } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { farm, run } from "../year/hand-made.ts";

const TODAY = "2027-01-18";
const next = (season: Season) => nextSeason(season, null, TODAY, { id: "farm-2028", name: "Next year" });
const grainG = (season: Season, lotId: string) =>
  season.opening.grain.reduce((sum, one) => one.lotId === lotId ? sum + one.massG : sum, 0);
const draw = (massG: number) => ({ lotId: "lot-a", storeId: "bin-1", massG });

test("what is booked for today, and today's seed, is still to come", () => {
  const { standing: _, screeningsG: _s, cleanG: _c, culmsG: _u, outputs: _o, ...booked } = run("r1", TODAY);
  const season = farm({
    seedReserves: [{ id: "seed", lotId: "lot-a", massG: 700_000, on: TODAY }, {
      id: "seed-before",
      lotId: "lot-a",
      massG: 100_000,
      on: "2027-01-17",
    }],
    bookings: {
      runs: [booked],
      feedLoads: [{ id: "load", pickupId: "cattle", on: TODAY, items: [draw(1_000_000)] }],
      moves: [{
        id: "old",
        on: "2027-01-17",
        lotId: "lot-a",
        fromStoreId: "bin-1",
        toStoreId: "bin-2",
        massG: 1,
        lossG: 0,
      }],
    },
  });
  const { season: later, notes } = next(season);
  expect(grainG(later, "lot-a")).toBe(9_900_000);
  expect(later.seedReserves.map((one) => one.id)).toEqual(["seed"]);
  expect([later.bookings.runs.length, later.bookings.feedLoads.length, later.bookings.moves.length]).toEqual([
    1,
    1,
    0,
  ]);
  expect(notes.map((one) => one.text)).toContain(
    "1 booking whose time is past was not kept and is left out.",
  );
});

test("what is recorded for today is done", () => {
  const window = { from: "2027-01-10", to: "2027-12-31" };
  const sale = {
    kind: "sell-grain" as const,
    id: "sale",
    party: "A mill",
    lotId: "lot-a",
    massG: 3_000_000,
    perTonneCents: 1,
    ...window,
  };
  const buy = { kind: "buy-grain" as const, party: "A farm", lotId: "lot-c", massG: 1, perTonneCents: 1 };
  const season = farm({
    contracts: [sale, { ...buy, id: "came", on: TODAY }, {
      ...buy,
      id: "to-come",
      lotId: "lot-a",
      on: TODAY,
    }],
    feedPickups: farm().feedPickups.map((one) => ({ ...one, from: "2027-01-04" })),
    records: {
      feedLoads: [{ id: "load", pickupId: "cattle", on: TODAY, items: [draw(1_000_000)] }],
      fills: [{ id: "fill", on: TODAY, lotId: "lot-c", storeId: "bin-2", massG: 1 }],
      deliveries: [{ id: "delivery", contractId: "sale", on: TODAY, ...draw(500_000) }],
    },
  });
  const { season: later } = next(season);
  expect(grainG(later, "lot-a")).toBe(8_500_000);
  expect(later.feedPickups[0]!.mostLoads).toBe(1);
  expect(later.contracts.map((one) => [one.id, one.massG])).toEqual([["sale", 2_500_000], ["to-come", 1]]);
});

test("what was steeped or stripped in this very minute is neither lost nor counted twice", () => {
  const at = `${TODAY}T07:00`;
  const made = {
    draws: [draw(1_000_000)],
    maltId: "pale",
    profileId: "week",
    vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
  };
  const outputs = [{ batchId: "new-malt", maltId: "pale", massG: 800_000 }];
  const season = farm({
    records: {
      runs: [
        { ...made, id: "steeped", steepInAt: at },
        {
          ...made,
          id: "stripped",
          steepInAt: "2027-01-10T08:00",
          castAt: "2027-01-12T08:00",
          kilnAt: "2027-01-17T08:00",
          stripAt: at,
          outputs,
        },
      ],
    },
  });
  const { season: later } = next(season);
  expect(later.records.runs).toEqual(season.records.runs.toReversed());
  // Its grain is drawn by its record, and its malt comes by its record.
  expect([grainG(later, "lot-a"), later.opening.malt.map((one) => one.id)]).toEqual([9_000_000, [
    "old-pale",
  ]]);
  expect(checkSeason(later, { asOf: later.asOf }).findings.filter((one) => one.level === "error")).toEqual(
    [],
  );
});

test("what has a record is booked no more", () => {
  const season = farm({
    records: {
      brews: [{ brewId: "b0", on: TODAY, tanks: [{ tankId: "tank-1", volumeL: 1600 }], grist: [] }],
    },
    brews: [{ id: "b0", beerId: "field-pale", on: TODAY, earliest: TODAY, latest: TODAY, class: 1 }],
    bookings: { brews: [{ brewId: "b0", on: TODAY }] },
  });
  const { season: later } = next(season);
  expect([later.bookings.brews, later.brews.map((one) => one.id)]).toEqual([[], ["b0-r2"]]);
  expect(later.opening.tanks.map((one) => one.tankId)).toEqual(["tank-1"]);
});
