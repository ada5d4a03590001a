import { describe, expect, test } from "vitest";
import { addDays, dayNumber } from "../../../core/calendar.ts";
import { seasonSchema } from "../../../core/season/season.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { reopenAt } from "../../../core/year/reopen.ts";
import { stateAt } from "../../../core/year/state-at.ts";
import { drawnYear } from "../../_support/drawn-year.ts";
import { asked, brewed, farm, MALT_G, order, planWith, run } from "./hand-made.ts";

const season = farm({
  brews: [asked("b0", "2027-03-01"), asked("b1", "2027-03-15")],
  seedReserves: [{ id: "seed-1", lotId: "lot-a", massG: 700_000, on: "2027-03-20" }],
});
const plan = planWith({
  runs: [run("r1", "2027-01-25"), run("r2", "2027-03-01")],
  orders: [order("2027-02-25", 20)],
  brews: [
    brewed("b0", "2027-02-28", { "malt-r1": 300_000, "old-pale": 100_000 }),
    brewed("b1", "2027-03-15", { "malt-r1": 200_000, bought: 180_000 }),
  ],
  fills: [{ on: "2027-07-08", lotId: "lot-g", storeId: "bin-1", massG: 18_000_000 }],
  feedLoads: [{
    id: "load-1",
    standing: "not booked",
    pickupId: "cattle",
    on: "2027-06-21",
    items: [
      { lotId: "lot-a", storeId: "bin-1", massG: 7_300_000 },
    ],
    revenueCents: 1,
  }],
  seedTaken: [{ reserveId: "seed-1", on: "2027-03-20", lotId: "lot-a", storeId: "bin-1", massG: 700_000 }],
});

describe("the state at a minute", () => {
  test("follows a run through its vessels and its malt into the store", () => {
    const where = (at: string) => {
      const state = stateAt(season, plan, at);
      return [
        state.vessels.map((one) => one.stage).join(),
        state.grain.find((one) => one.lotId === "lot-a")?.massG,
        state.batches.find((one) => one.batch.id === "malt-r1")?.state ?? "none",
      ];
    };
    expect(where("2027-01-25T08:00")).toEqual(["", 10_000_000, "none"]);
    expect(where("2027-01-25T08:01")).toEqual(["steep", 9_000_000, "none"]);
    expect(where("2027-01-27T08:01")).toEqual(["bed", 9_000_000, "none"]);
    expect(where("2027-02-02T07:59")).toEqual(["kiln", 9_000_000, "none"]);
    expect(where("2027-02-02T08:01")).toEqual(["", 9_000_000, "resting"]);
    expect(where("2027-02-23T00:00")).toEqual(["", 9_000_000, "ready"]);
    expect(where("2028-02-03T00:00")[2]).toEqual("past its date");
  });

  test("midnight is the end of the day before", () => {
    expect(stateAt(season, plan, "2027-02-28T00:00").tanks).toEqual([]);
    expect(stateAt(season, plan, "2027-02-28T00:01").tanks).toMatchObject([{
      tankId: "tank-1",
      freeDay: dayNumber("2027-03-14"),
    }]);
    expect(stateAt(season, plan, "2027-03-01T00:00").ordersOnTheWay.map((one) => one.id)).toEqual([
      "order-1",
    ]);
    expect(stateAt(season, plan, "2027-03-08T00:00").ordersOnTheWay).toEqual([]);
  });
});

describe("a season reopened on a later day", () => {
  test("is a sound season with the stocks, vessels, tanks and orders of that day", () => {
    const later = reopenAt(season, plan, "2027-03-02");
    expect(seasonSchema.parse(later)).toEqual(later);
    expect(checkSeason(later, { asOf: later.asOf }).findings.filter((one) => one.level === "error")).toEqual(
      [],
    );
    expect(later.opening.grain).toContainEqual({ lotId: "lot-a", storeId: "bin-1", massG: 8_000_000 });
    expect(later.opening.malt.map((one) => [one.id, one.massG])).toEqual([
      ["old-pale", 900_000],
      ["malt-r1", MALT_G - 300_000],
    ]);
    expect(later.records.runs).toMatchObject([{ id: "r2", steepInAt: "2027-03-01T08:00" }]);
    expect(later.records.runs[0]!.castAt).toBeUndefined();
    expect(later.records.orders).toMatchObject([{ id: "order-1", arrivesOn: "2027-03-07" }]);
  });

  test("does not ask again for a brew that is made, and keeps its tank", () => {
    const later = reopenAt(season, plan, "2027-03-02");
    // Its window is open until 4 March, so it carries a record; once the window is over it needs none.
    expect(later.records.brews.map((one) => one.brewId)).toEqual(["b0"]);
    const year = drawnYear(later, null);
    expect(year.brews.find((one) => one.id === "b0")!.standing).toBe("under way");
    expect(year.tanks.taken[0]).toBe(1);
    const after = reopenAt(season, plan, "2027-03-10");
    expect(after.records.brews).toEqual([]);
    expect(after.opening.tanks).toMatchObject([{ tankId: "tank-1", freeOn: "2027-03-14" }]);
    expect(drawnYear(after, null).brews.filter((one) => !one.tail).map((one) => one.id)).toEqual(["b1"]);
  });

  test("shows the same levels from there on when the rest of the plan is carried out", () => {
    const day = "2027-03-02";
    const later = reopenAt(season, plan, day);
    const rest = {
      ...plan,
      asOf: later.asOf,
      runs: plan.runs.map((one) => one.id === "r2" ? { ...one, standing: "under way" as const } : one)
        .filter((one) => one.stripAt > later.asOf),
      brews: plan.brews.filter((one) => one.on >= day),
      orders: [],
    };
    const whole = drawnYear(season, plan), half = drawnYear(later, rest);
    const skip = dayNumber(day) - whole.firstDay;
    expect(half.malt.rows[0]!.readyHomeG).toEqual(whole.malt.rows[0]!.readyHomeG.slice(skip));
    expect(half.malt.rows[0]!.restingG).toEqual(whole.malt.rows[0]!.restingG.slice(skip));
    expect(half.malt.placesUsed).toEqual(whole.malt.placesUsed.slice(skip));
    const level = (year: typeof whole, on: string) =>
      year.stores[0]!.stays.find((one) => one.from <= dayNumber(on) && dayNumber(on) <= one.to)!
        .levelsG[
          dayNumber(on) -
          Math.max(
            year.firstDay,
            dayNumber(on) >= dayNumber("2027-07-08") ? dayNumber("2027-07-08") : year.firstDay,
          )
        ];
    for (const on of [day, "2027-03-21", "2027-05-01", "2027-07-09"]) {
      expect(level(half, on)).toBe(level(whole, on));
    }
  });

  test("after the harvest the forecast is grain in a bin that wakes when it was planned to", () => {
    const later = reopenAt(season, plan, "2027-07-10");
    const lot = later.lots.find((one) => one.id === "lot-g")!;
    expect([lot.forecast, lot.formedOn, lot.wakesOn?.late]).toEqual([
      false,
      "2027-07-08",
      addDays("2027-07-08", 56),
    ]);
    expect(later.plantings.find((one) => one.id === "barley-2027")!.state).toBe("harvested");
    expect(later.seedReserves).toEqual([]);
    expect(later.feedPickups[0]!.mostLoads).toBe(1);
    expect(checkSeason(later, { asOf: later.asOf }).findings.filter((one) => one.level === "error")).toEqual(
      [],
    );
  });

  test("a lot of two harvests wakes by the rest of the later one, and what was lost keeps nothing asleep", () => {
    const [old, first] = farm().plantings;
    const second = {
      ...first!,
      id: "second",
      harvest: { early: "2027-07-20", likely: "2027-07-28", late: "2027-08-05" },
    };
    const lost = {
      ...first!,
      id: "lost",
      state: "lost" as const,
      restAfterHarvestDays: { early: 200, likely: 210, late: 220 },
    };
    const fills = ["2027-07-08", "2027-07-28"].map((on) => ({
      on,
      lotId: "lot-g",
      storeId: "bin-2",
      massG: 9_000_000,
    }));
    const later = reopenAt(
      farm({ plantings: [old!, first!, second, lost] }),
      planWith({ fills }),
      "2027-08-10",
    );
    expect(later.lots.find((one) => one.id === "lot-g")!.wakesOn).toEqual({
      early: addDays("2027-07-28", 21),
      likely: addDays("2027-07-28", 42),
      late: addDays("2027-07-28", 56),
    });
  });

  test("records of brews long over the very ones that the season check would ask about", () => {
    const from = "2027-12-20";
    const days = [367, 366, 365].map((ago) => addDays(from, -ago));
    const brews = days.map((on) => asked(on, on, { earliest: on, latest: on }));
    const made = days.map((on) => brewed(on, on, { "old-pale": 100_000 }));
    const early = farm({ brews, positionAt: "2026-12-01T00:00", asOf: "2026-12-02T07:00" });
    const later = reopenAt(early, planWith({ asOf: early.asOf, brews: made }), from);
    expect(later.records.brews.map(({ brewId }) => brewId)).toEqual([days[0]]);
    const codes = checkSeason(later, { asOf: later.asOf }).findings.map(({ code }) => code);
    expect(codes).not.toContain("outside-horizon");
    const bare = checkSeason({ ...later, records: { ...later.records, brews: [] } }, { asOf: later.asOf });
    expect(bare.findings.filter(({ code }) => code === "outside-horizon")).toHaveLength(1);
  });

  test("is refused for a day that is past", () => {
    expect(() => reopenAt(season, plan, "2027-01-18")).toThrow(/from 2027-01-19/);
  });
});
