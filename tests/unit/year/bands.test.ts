import { describe, expect, test } from "vitest";
import { dayNumber, isoDate } from "../../../core/calendar.ts";
import { drawnShortfalls, drawnYear } from "../../_support/drawn-year.ts";
import { asked, brewed, farm, FEED_OF_C, MALT_G, order, planWith, run } from "./hand-made.ts";

const day = dayNumber;
const at = (date: string) => day(date) - day("2027-01-04");

describe("a season without a plan", () => {
  test("with nothing in it draws empty bands over the whole horizon", () => {
    const year = drawnYear(
      farm({
        fields: [],
        plantings: [],
        weighTickets: [],
        lots: [],
        stores: [],
        vessels: [],
        maltTypes: [],
        beers: [],
        tanks: [],
        supplyOffers: [],
        feedPickups: [],
        opening: {},
      }),
      null,
    );
    expect(year.planned).toBe(false);
    expect([isoDate(year.firstDay), isoDate(year.lastDay), year.planEnd - year.lastDay])
      .toEqual(["2027-01-04", "2027-12-31", 84]);
    expect(year.asOf).toBeCloseTo(day("2027-01-18") + 7 / 24, 9);
    expect([year.stores, year.brews, year.malt.rows, year.malthouse.runs]).toEqual([[], [], [], []]);
    expect(year.malt.placesUsed).toHaveLength(year.planEnd - year.firstDay + 1);
  });

  test("draws fields, bins from the opening, and bookings as booked", () => {
    const { standing: _, screeningsG: _s, cleanG: _c, culmsG: _r, outputs: _o, ...booking } = run(
      "run-1",
      "2027-01-25",
    );
    const year = drawnYear(farm({ brews: [asked("b1", "2027-03-01")], bookings: { runs: [booking] } }), null);
    expect(year.stores[0]!.stays[0]!.levelsG[at("2027-01-24")]).toBe(10_000_000);
    expect(year.stores[0]!.stays[0]!.levelsG[at("2027-01-25")]).toBe(9_000_000);
    expect(year.malthouse.runs.map((one) => [one.standing, one.outputs[0]!.massG])).toEqual([
      ["booked", MALT_G],
    ]);
    expect(year.brews.map((one) => [one.standing, one.tail])).toEqual([["awaited", false], [
      "awaited",
      true,
    ]]);
    expect(year.malt.rows[0]!.lacks).toEqual([]);
  });
});

describe("fields", () => {
  const { fields } = drawnYear(farm(), null);

  test("show weighed and forecast weights", () => {
    const [old, coming] = fields.plantings;
    expect(old).toMatchObject({
      weighed: true,
      letter: "A",
      cutG: { likely: 21_000_000 },
      atRiskUntil: null,
    });
    // 5 ha x 4 t = 20 t cut; less 0.5 %; 16 % dried to 12 %; less 2 % at intake.
    expect(coming!.binG.likely).toBe(Math.round(20_000_000 * 0.995 * 0.84 / 0.88 * 0.98));
    expect(coming!.binG.bad).toBeLessThan(coming!.binG.likely);
    expect(isoDate(coming!.atRiskUntil!)).toBe("2027-04-01");
  });

  test("tell what finds no store, as far as the likely harvest goes", () => {
    const leftOut = [{ on: "2027-07-08", lotId: "lot-g", massG: 2_500_000 }];
    const [old, coming] = drawnYear(farm(), planWith({ leftOut })).fields.plantings;
    expect([old!.leftOutG, coming!.leftOutG]).toEqual([0, 2_500_000]);
  });

  test("share what finds no store of one lot among the plantings that come on its day, by weight", () => {
    const [old, coming] = farm().plantings;
    const other = (id: string, likely: string, areaM2: number) => ({
      ...coming!,
      id,
      areaM2,
      harvest: { early: "2027-07-01", likely, late: "2027-08-30" },
    });
    const season = farm({
      plantings: [old!, coming!, other("beside", "2027-07-08", 25_000), other("later", "2027-08-02", 50_000)],
    });
    const leftOut = [
      { on: "2027-07-08", lotId: "lot-g", massG: 3_000_000 },
      { on: "2027-08-02", lotId: "lot-g", massG: 1_000_000 },
    ];
    const plan = planWith({ leftOut });
    expect(drawnYear(season, plan).fields.plantings.map((one) => one.leftOutG))
      .toEqual([0, 2_000_000, 1_000_000, 1_000_000]);
    const told = drawnShortfalls(season, plan).filter(({ kind }) => kind === "no room");
    expect(told.reduce((sum, { massG }) => sum + massG, 0)).toBe(4_000_000);
  });

  test("show a break only where no grain is planted that year", () => {
    expect(fields.breaks.map((one) => [one.fieldName, one.harvestYear, one.crop])).toEqual([
      ["Far Side", 2027, "clover"],
    ]);
  });
});

describe("bins", () => {
  const season = farm();
  const { stores } = drawnYear(
    season,
    planWith({
      runs: [run("r1", "2027-01-25")],
      moves: [{
        id: "move-1",
        standing: "not booked",
        on: "2027-07-01",
        lotId: "lot-a",
        fromStoreId: "bin-1",
        toStoreId: "bin-2",
        massG: 9_000_000,
        lossG: 45_000,
      }],
      feedLoads: [FEED_OF_C],
      fills: [{ on: "2027-07-08", lotId: "lot-g", storeId: "bin-1", massG: 18_500_000 }],
    }),
  );

  test("carry each lot's level at the day's end, and what is moved less its loss", () => {
    const [a, g] = stores[0]!.stays;
    expect([isoDate(a!.from), isoDate(a!.to)]).toEqual(["2027-01-04", "2027-06-30"]);
    expect([isoDate(g!.from), g!.levelsG[0]]).toEqual(["2027-07-08", 18_500_000]);
    expect(stores[1]!.stays.map((one) => [one.letter, one.levelsG[0]])).toEqual([
      ["C", 3_000_000],
      ["A", 8_955_000],
    ]);
  });

  test("tell sleep from readiness, and feed from both", () => {
    expect(stores[0]!.stays[0]!.stretches.map((one) => [one.state, isoDate(one.from)])).toEqual([
      ["asleep", "2027-01-04"],
      ["ready", "2027-01-14"],
    ]);
    // Forecast grain wakes by its late rest: 8 July and 56 days.
    expect(stores[0]!.stays[1]!.stretches.map((one) => isoDate(one.from))).toEqual([
      "2027-07-08",
      "2027-09-02",
    ]);
    expect(stores[1]!.stays[0]!.stretches.map((one) => one.state)).toEqual(["feed"]);
  });

  test("say what has to leave, by the last day that leaves time to clean", () => {
    expect(
      stores.flatMap((one) => one.mustLeave.map(({ letter, words }) => [letter, ...Object.values(words)])),
    )
      .toEqual([
        [
          "A",
          "by about 5 Jul",
          "9.0 t must leave bin 1 by about 5 Jul",
          "over to bin 2",
          "G 18.5 t comes about 8 Jul",
        ],
        ["C", "by 28 Jun", "3.0 t must leave bin 2 by 28 Jun", "to feed", "A 9.0 t comes 1 Jul"],
      ]);
    expect(stores[0]!.cleanGaps.map((gap) => [isoDate(gap.from), isoDate(gap.to)])).toEqual([
      ["2027-07-05", "2027-07-07"],
    ]);
  });

  test("say what comes in for what has to leave: which lot, how much, when", () => {
    const [note] = stores[0]!.mustLeave;
    expect([note!.nextLetter, note!.nextMassG, isoDate(note!.nextDay)]).toEqual([
      "G",
      18_500_000,
      "2027-07-08",
    ]);
    expect(note!.toStoreName).toBe("Bin 2");
    expect(stores[1]!.mustLeave[0]!.toStoreName).toBeNull();
  });

  test("in a bag row the largest of what must leave is named, and no more than the arrival needs", () => {
    // Places of a tonne of this grain: two taken by A, one by C, and G wants three of four.
    const bags = farm({
      stores: [
        ...farm().stores.filter(({ id }) => id !== "bin-2"),
        {
          kind: "bags",
          id: "bin-2",
          name: "Bags",
          places: 4,
          placeVolumeL: 1613,
          monthTempC: new Array(12).fill(8),
        },
      ],
      opening: {
        ...farm().opening,
        grain: [
          { lotId: "lot-a", storeId: "bin-2", massG: 2_000_000 },
          { lotId: "lot-c", storeId: "bin-2", massG: 1_000_000 },
        ],
      },
    });
    const item = (lotId: string, massG: number) => ({ lotId, storeId: "bin-2", massG });
    const year = drawnYear(
      bags,
      planWith({
        feedLoads: [{
          id: "load-1",
          standing: "not booked",
          pickupId: "cattle",
          on: "2027-06-21",
          items: [item("lot-a", 2_000_000), item("lot-c", 1_000_000)],
          revenueCents: 1,
        }],
        fills: [{ on: "2027-07-08", lotId: "lot-g", storeId: "bin-2", massG: 3_000_000 }],
      }),
    );
    const row = year.stores.find(({ id }) => id === "bin-2")!;
    expect(row.mustLeave.map((one) => [one.letter, one.nextLetter])).toEqual([["A", "G"]]);
  });

  test("a load that leaves half the lot behind clears nothing", () => {
    const half = planWith({
      feedLoads: [{
        id: "load-1",
        standing: "not booked",
        pickupId: "cattle",
        on: "2027-06-21",
        items: [{ lotId: "lot-c", storeId: "bin-2", massG: 1_500_000 }],
        revenueCents: 1,
      }],
    });
    expect(drawnYear(season, half).stores[1]!.mustLeave).toEqual([]);
  });

  test("a harvest that was weighed after the plan was made is not filled a second time", () => {
    const fill = { on: "2027-07-08", lotId: "lot-g", storeId: "bin-2", massG: 18_000_000 };
    const weighed = farm({ asOf: "2027-07-09T07:00", records: { fills: [{ ...fill, id: "fill-1" }] } });
    const year = drawnYear(weighed, planWith({ fills: [{ ...fill, massG: 18_500_000 }] }));
    expect(year.stores[1]!.arrivals.map((one) => [one.massG, one.standing])).toEqual([[18_000_000, "done"]]);
  });

  test("hold by volume and the lot's own test weight", () => {
    expect(stores[0]!.stays[0]!.capacityG).toBe(400 * 62 * 1000);
  });
});

describe("malt", () => {
  const BREWS = ["2027-02-01", "2027-02-08", "2027-03-01", "2027-03-29"];
  const year = drawnYear(
    farm({ brews: BREWS.map((on, i) => asked(`b${i}`, on)) }),
    planWith({
      runs: [run("r1", "2027-02-15")],
      orders: [order("2027-01-25", 20)],
      brews: [
        brewed("b0", "2027-02-01", { "old-pale": 400_000 }),
        brewed("b1", "2027-02-08", { "old-pale": 300_000, bought: 100_000 }, "tank-2"),
        brewed("b2", "2027-03-01", { bought: 380_000 }),
        brewed("b3", "2027-03-29", { "malt-r1": 400_000 }),
      ],
    }),
  );
  const [pale] = year.malt.rows;

  test("rests from strip to ready, home and bought apart", () => {
    // Stripped on 23 Feb, ready 21 days later.
    expect(pale!.restingG[at("2027-02-22")]).toBe(0);
    expect(pale!.restingG[at("2027-02-23")]).toBe(MALT_G);
    expect(pale!.restingG[at("2027-03-15")]).toBe(MALT_G);
    expect(pale!.readyHomeG[at("2027-03-15")]).toBe(300_000);
    expect(pale!.readyHomeG[at("2027-03-16")]).toBe(MALT_G + 300_000);
    expect(pale!.readyBoughtG[at("2027-02-04")]).toBe(500_000);
  });

  test("of a lot that failed since is in store and never ready, made before the opening or after", () => {
    const season = farm();
    const analyses = [{ id: "toxin", sampledOn: "2027-01-12", resultOn: "2027-01-15", donPpm: 3 }];
    const [a, ...rest] = season.lots;
    const made = run("r1", "2027-01-04");
    const records = {
      ...season.records,
      runs: [{
        id: "r1",
        draws: made.draws,
        maltId: made.maltId,
        profileId: made.profileId,
        vesselIds: made.vesselIds,
        steepInAt: made.steepInAt,
        castAt: made.castAt,
        kilnAt: made.kilnAt,
        stripAt: made.stripAt,
        outputs: [{ batchId: "malt-r1", maltId: "pale", massG: MALT_G }],
      }],
    };
    const readyAt = (lots: typeof season.lots) => {
      const year = drawnYear({ ...season, lots, records }, null);
      const [pale] = year.malt.rows;
      return [pale!.readyHomeG, pale!.restingG, year.malthouse.runs[0]!.outputs[0]!.readyDay] as const;
    };
    const [home, resting] = readyAt(season.lots);
    expect([home[at("2027-01-20")], resting[at("2027-01-20")]]).toEqual([1_000_000, MALT_G]);
    expect(home[at("2027-03-01")]).toBe(1_000_000 + MALT_G);
    const [failedHome, failedResting, readyDay] = readyAt([{ ...a!, analyses }, ...rest]);
    expect(Math.max(...failedHome)).toBe(0);
    expect(failedResting[at("2027-03-01")]).toBe(1_000_000 + MALT_G);
    expect(readyDay).toBe(Infinity);
  });

  test("fills places by batch", () => {
    // 300 kg old (1), 20 kg bought (1), 800 kg new (2).
    expect(year.malt.placesUsed[at("2027-03-02")]).toBe(4);
  });

  test("lacks from the first brew on bought malt until home malt is back, as one episode", () => {
    expect(pale!.lacks).toHaveLength(1);
    const [lack] = pale!.lacks;
    expect([isoDate(lack!.firstDay), isoDate(lack!.lastDay), lack!.massG, lack!.boughtG, lack!.askedG])
      .toEqual([
        "2027-02-08",
        "2027-03-01",
        480_000,
        480_000,
        780_000,
      ]);
    expect(lack!.text).toBe("home pale malt runs short on 8 Feb, back on 2 Mar: 480 of 780 kg lacking");
  });

  test("a brew of home malt alone in between starts a new episode", () => {
    const between = drawnYear(
      farm({ brews: ["2027-02-01", "2027-02-09", "2027-02-15"].map((on, i) => asked(`b${i}`, on)) }),
      planWith({
        orders: [order("2027-01-18", 40)],
        brews: [
          brewed("b0", "2027-02-01", { bought: 400_000 }),
          brewed("b1", "2027-02-09", { "old-pale": 400_000 }),
          brewed("b2", "2027-02-15", { bought: 400_000 }),
        ],
      }),
    );
    expect(between.malt.rows[0]!.lacks).toHaveLength(2);
    const near = drawnYear(
      farm({ brews: ["2027-02-01", "2027-02-09"].map((on, i) => asked(`b${i}`, on)) }),
      planWith({
        orders: [order("2027-01-18", 40)],
        brews: [
          brewed("b0", "2027-02-01", { bought: 400_000 }),
          brewed("b1", "2027-02-09", { bought: 400_000 }),
        ],
      }),
    );
    expect(near.malt.rows[0]!.lacks).toHaveLength(1);
  });

  test("what is not brewed for want of malt is lacking, what is not brewed for want of tanks is not", () => {
    const season = farm({ brews: [asked("b0", "2027-02-01")], opening: { grain: [], malt: [] } });
    const left = (cause: "no malt in time" | "tanks full") =>
      drawnYear(season, planWith({ unbrewed: [{ id: "b0", beerId: "field-pale", cause, why: "" }] })).malt
        .rows[0]!
        .lacks;
    expect(left("no malt in time").map((one) => [isoDate(one.firstDay), one.boughtG])).toEqual([[
      "2027-02-01",
      0,
    ]]);
    expect(left("tanks full")).toEqual([]);
  });
});

describe("brews and tanks", () => {
  const brews = ["2027-02-01", "2027-02-03", "2027-02-05"].map((on, i) => asked(`b${i}`, on));

  test("a clash names the tanks asked for and what the plan does about it", () => {
    const { tanks } = drawnYear(
      farm({ brews }),
      planWith({
        brews: [
          brewed("b0", "2027-02-01", { "old-pale": 300_000 }, "tank-1"),
          brewed("b1", "2027-02-03", { "old-pale": 300_000 }, "tank-2"),
          brewed("b2", "2027-02-15", { "old-pale": 300_000 }, "tank-1"),
        ],
      }),
    );
    const [clash] = tanks.clashes;
    // Each wants a tank for 13 days and a day of cleaning; all three overlap from the third brew to the first one's end.
    expect([isoDate(clash!.from), isoDate(clash!.to), clash!.asked, clash!.open]).toEqual([
      "2027-02-05",
      "2027-02-14",
      3,
      2,
    ]);
    expect(clash!.text).toBe(
      "3 tanks of 2 are asked for, 5 Feb to 14 Feb: Field Pale of 5 Feb goes to 15 Feb",
    );
    expect(tanks.taken[at("2027-02-14")]).toBe(2);
    expect(tanks.tanks[0]!.uses.map((use) => [isoDate(use.from), isoDate(use.to), isoDate(use.freeDay)]))
      .toEqual([
        ["2027-02-01", "2027-02-13", "2027-02-15"],
        ["2027-02-15", "2027-02-27", "2027-03-01"],
      ]);
  });

  test("no clash with a tank more", () => {
    const tanks = ["1", "2", "3"].map((n) => ({ id: `tank-${n}`, name: `Tank ${n}`, volumeL: 2000 }));
    expect(drawnYear(farm({ brews, tanks }), null).tanks.clashes).toEqual([]);
  });

  test("a recorded brew is under way in its tank and done after it", () => {
    const record = {
      brewId: "b0",
      on: "2027-01-05",
      tanks: [{ tankId: "tank-1", volumeL: 1600 }],
      grist: [{ lineId: "pale-line", from: { kind: "batch" as const, batchId: "old-pale" }, massG: 400_000 }],
    };
    const standing = (on: string) =>
      drawnYear(farm({ brews: [asked("b0", "2027-01-05")], records: { brews: [{ ...record, on }] } }), null)
        .brews[0]!;
    expect(standing("2027-01-05")).toMatchObject({ standing: "done", homeShare: 1, promiseHeld: true });
    expect(standing("2027-01-06").standing).toBe("under way");
  });
});
