import { describe, expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { instant } from "../../../core/zone.ts";
import { fixedRuns } from "../../../core/search/fixed.ts";
import { problemOf } from "../../../core/search/problem.ts";
import { VesselBoard } from "../../../core/search/vessels.ts";
import type { MadeFromGrain } from "../../../core/season/malthouse.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import { handSeason } from "../audit/_hand-season.ts";

/** What becomes of the hand-written season's runs after a change: r1 is under way, r2 is booked. */
function fixedOf(change: (season: Season) => void = () => {}) {
  const season = handSeason();
  change(season);
  const problem = problemOf(seasonSchema.parse(season), season.asOf);
  return { problem, ...fixedRuns(problem, new VesselBoard(problem)) };
}

const lotA = (season: Season) => season.lots[0]!;
const booked = (season: Season) => season.bookings.runs[0]!;
const pale = (season: Season) => season.maltTypes[0]!.made as MadeFromGrain;

describe("a booked run", () => {
  test("is kept as booked when it can be", () => {
    const { fixed, refused, problem } = fixedOf();
    expect(refused).toEqual([]);
    expect(fixed.map((run) => [run.id, run.standing])).toEqual([["r1", "under way"], ["r2", "booked"]]);
    const times = ["2027-01-19T08:00", "2027-01-21T08:00", "2027-01-25T08:00", "2027-01-26T08:00"];
    expect(fixed[1]!.slot.times).toEqual(times.map((time) => instant(problem.season.zone, time)));
  });

  test.each<[string, (season: Season) => void]>([
    ["shorter or longer", (season) => pale(season).profiles[0]!.bed.greatest = 95],
    [
      "shorter or longer",
      (season) => Object.assign(pale(season).profiles[0]!.kiln, { least: 25, usual: 25 }),
    ],
    [
      "closed",
      (season) => {
        const closure = { from: "2027-01-26T07:59", to: "2027-01-27T00:00", reason: "burner" };
        season.vessels[2]!.closures = [closure];
      },
    ],
    ["looks in", (season) => season.roster.lookIns = []],
    ["cannot be made", (season) => lotA(season).use = "feed"],
    [
      "awaits a result",
      (season) =>
        lotA(season).analyses.push({ id: "a-2", sampledOn: "2027-01-15", expectedOn: "2027-01-19" }),
    ],
    [
      "awake",
      (season) => {
        lotA(season).analyses[0]!.germinativeEnergy = 0.9;
        lotA(season).wakesOn = { early: "2027-01-01", likely: "2027-01-10", late: "2027-01-20" };
      },
    ],
    ["too old", (season) => lotA(season).useBy = { on: "2027-01-18", reason: "sprouted" }],
    ["not there", (season) => season.opening.grain[0]!.massG = 1_999_999],
    ["greater than", (season) => season.vessels[2]!.loadLimits[0]!.greatestG = 949_999],
    ["less than", (season) => season.vessels[1]!.loadLimits[0]!.leastG = 950_001],
    ["taken or not yet clean", (season) => season.vessels[1]!.cleaningHours = 1000],
    ["hand-overs", (season) => booked(season).steepInAt = "2027-01-19T06:59"],
  ])("is refused when it cannot: %s", (why, change) => {
    const { fixed, refused } = fixedOf(change);
    expect(fixed.map((run) => run.id)).toEqual(["r1"]);
    expect(refused.map((one) => [one.kind, one.id])).toEqual([["run", "r2"]]);
    expect(refused[0]!.why).toContain(why);
  });
});

describe("a run under way", () => {
  const timesOf = (change?: (season: Season) => void) => {
    const { fixed, problem } = fixedOf(change);
    return { times: fixed[0]!.slot.times, at: (time: string) => instant(problem.season.zone, time) };
  };

  test("keeps the hand-overs that were recorded, however late", () => {
    const { times, at } = timesOf((season) => {
      Object.assign(season.records.runs[1]!, { castAt: "2027-01-16T09:30", kilnAt: "2027-01-18T08:45" });
    });
    expect(times.slice(0, 3)).toEqual(
      ["2027-01-14T08:00", "2027-01-16T09:30", "2027-01-18T08:45"].map(at),
    );
  });

  test("does nothing before as-of that was not recorded", () => {
    const { times, at } = timesOf((season) => {
      Object.assign(season.records.runs[1]!, { steepInAt: "2027-01-12T10:00", castAt: "2027-01-14T10:00" });
    });
    // 92 to 100 h in the bed end between 06:00 and 14:00 of the 18th; the usual 96 h would do, 08:00 would be past.
    expect(times[2]).toBe(at("2027-01-18T10:00"));
    const late = timesOf((season) => {
      Object.assign(season.records.runs[1]!, { steepInAt: "2027-01-12T08:00", castAt: "2027-01-14T08:00" });
    });
    expect(late.times[2]).toBe(late.at("2027-01-18T09:00"));
  });
});

describe("a run that is overdue", () => {
  test("waits until somebody is there", () => {
    // 100 h in the bed were over on Wednesday; now it is Sunday, and nobody comes before seven on Monday.
    const { fixed, problem } = fixedOf((season) => {
      season.asOf = "2027-01-24T09:00";
      season.bookings.runs = [];
    });
    expect(fixed[0]!.slot.times[2]).toBe(instant(problem.season.zone, "2027-01-25T07:00"));
  });

  test("is cast and kilned so that the strip falls where somebody is, though the usual hours would not", () => {
    // Usual hours put the strip on Sunday, and the least and most of the kiln do not leave it; two days in the bed more do.
    const { fixed, problem } = fixedOf((season) => {
      season.bookings.runs = [];
      Object.assign(pale(season).profiles[0]!.bed, { least: 40, usual: 100, greatest: 200 });
      season.asOf = "2027-01-18T09:00";
      season.records.runs[1]!.castAt = "2027-01-18T08:00";
      season.records.runs[1]!.steepInAt = "2027-01-16T08:00";
      const kiln = { from: "2027-01-21T00:00", to: "2027-01-25T07:00", reason: "burner" };
      season.vessels[2]!.closures = [kiln];
    });
    const [, , kiln, strip] = fixed[0]!.slot.times;
    expect(kiln).toBeGreaterThanOrEqual(instant(problem.season.zone, "2027-01-25T07:00"));
    expect(strip! - kiln!).toBe(24 * 60);
  });

  test("gives locked malt when its lot has failed since", () => {
    const { fixed } = fixedOf((season) => lotA(season).treatedSeed = true);
    expect(fixed.map((run) => [run.id, run.locked])).toEqual([["r1", true]]);
  });
});

describe("booked orders, moves and feed loads", () => {
  const bookedOf = (change: (season: Season) => void) => fixedOf(change).problem.booked;
  const order = (on: string, arrivesOn: string, packs = 4) => ({
    ...{ id: "o8", offerId: "offer-crystal", batchId: "crystal-8" },
    orderedOn: on,
    arrivesOn,
    packs,
  });
  const items = (massG: number) => [{ lotId: "c", storeId: "bin-2", massG }];

  test("an order to come is kept, its malt comes its lead days later", () => {
    const { batches, refused } = bookedOf((season) => {
      season.bookings.orders = [order("2027-01-19", "2027-01-26")];
    });
    expect([batches.map((one) => one.arrivesDay), refused]).toEqual([[dayNumber("2027-01-26")], []]);
  });

  test.each([
    ["of last week that nobody placed", order("2027-01-12", "2027-01-19")],
    ["on a weekday without orders", order("2027-01-20", "2027-01-27")],
    ["of too few packs", order("2027-01-19", "2027-01-26", 3)],
    ["that comes too soon", order("2027-01-19", "2027-01-25")],
  ])("an order %s is refused", (_, one) => {
    const { orders, refused } = bookedOf((season) => season.bookings.orders = [one]);
    expect([orders, refused.map(({ id }) => id)]).toEqual([[], ["o8"]]);
  });

  test("a load of grain that is there is kept, unless its day is past", () => {
    const load = (on: string, massG: number) => (season: Season) => {
      season.bookings.feedLoads = [{ id: "l1", pickupId: "cattle", on, items: items(massG) }];
      season.bookings.orders = [];
    };
    expect(bookedOf(load("2027-01-18", 2_000_000)).loads.map((one) => one.id)).toEqual(["l1"]);
    expect(bookedOf(load("2027-01-18", 2_000_001)).refused.map((one) => one.id)).toEqual(["l1"]);
    expect(bookedOf(load("2027-01-17", 2_000_000)).refused.map((one) => one.id)).toEqual(["l1"]);
    // Nothing can be taken from a bin of yesterday, but nothing is also what an empty load takes.
    expect(bookedOf(load("2027-01-17", 0)).refused.map((one) => one.id)).toEqual(["l1"]);
  });

  test("a move takes grain that is there, and what one move takes the next cannot", () => {
    const move = (id: string, massG: number, on = "2027-01-19") => ({
      ...{ id, on, lotId: "c", fromStoreId: "bin-2", toStoreId: "bin-3" },
      massG,
      lossG: 0,
    });
    const { moves, refused } = bookedOf((season) => {
      season.bookings.orders = [];
      season.bookings.moves = [move("m1", 1_500_000), move("m2", 500_001), move("m3", 1, "2027-01-17")];
    });
    expect([moves, refused].map((list) => list.map((one) => one.id))).toEqual([["m1"], ["m3", "m2"]]);
  });
});
