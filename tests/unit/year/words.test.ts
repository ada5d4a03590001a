import { describe, expect, test } from "vitest";
import { nextLine } from "../../../core/year/next.ts";
import { sentenceText, yearSentence } from "../../../core/year/sentence.ts";
import type { Shortfall } from "../../../core/year/shortfalls.ts";
import { drawnShortfalls, drawnYear } from "../../_support/drawn-year.ts";
import { summarise } from "../../../core/plan/summary.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season, SeasonFile } from "../../../core/season/season.ts";
import { asked, brewed, farm, FEED_OF_C, mondays, order, planWith, run } from "./hand-made.ts";

const say = (season: Season, plan: Plan | null) => sentenceText(yearSentence(drawnYear(season, plan)));

/** Two brews on home malt, then one on bought malt, while a run a week fills the bed. */
const BREWS = ["2027-02-01", "2027-02-08", "2027-02-22"];
const lackingSeason = farm({ brews: BREWS.map((on, i) => asked(`b${i}`, on)) });
const lacking = planWith({
  runs: mondays("2027-01-25", 6).map((monday, i) => run(`r${i}`, monday)),
  orders: [order("2027-02-01", 16)],
  brews: [
    brewed("b0", "2027-02-01", { "old-pale": 400_000 }),
    brewed("b1", "2027-02-08", { "old-pale": 400_000 }, "tank-2"),
    brewed("b2", "2027-02-22", { bought: 390_000 }),
  ],
});

describe("the year's sentence", () => {
  test("with nothing to say says so", () => {
    expect(say(farm(), planWith())).toBe("No brews are in the calendar from 18 Jan to 31 Dec 2027.");
    expect(say(farm({ brews: [asked("b0", "2027-02-01")] }), null)).toBe(
      "There is no plan yet: 1 brew is still to be planned from 18 Jan to 31 Dec 2027, with 13.0 t in store.",
    );
  });

  test("tells share, break and limit", () => {
    expect(say(lackingSeason, lacking)).toBe(
      "Home-grown grain makes 67 % of the malt for 3 brews from 18 Jan to 31 Dec 2027; home pale malt runs short on 22 Feb, back on 23 Feb; the germination bed is full from 25 Jan to 3 Mar 2027.",
    );
    const strong = yearSentence(drawnYear(lackingSeason, lacking)).filter((part) => part.strong);
    expect(strong.map((part) => part.text)).toEqual(["home pale malt runs short on 22 Feb, back on 23 Feb"]);
  });

  test("names the calendar year when all of it is shown", () => {
    const season = { ...lackingSeason, positionAt: "2026-12-28T00:00", horizonEnd: "2028-01-03" };
    expect(say(season, lacking)).toMatch(/^Home-grown grain makes 67 % of the malt for 3 brews in 2027;/);
  });

  test("counts what is not brewed, and knows when nothing is home-made or nothing is made", () => {
    const left = BREWS.map((_, i) => ({
      id: `b${i}`,
      beerId: "field-pale",
      cause: "tanks full" as const,
      why: "no tank is free",
    }));
    expect(say(lackingSeason, planWith({ unbrewed: left }))).toMatch(
      /^None of the 3 brews asked for from 18 Jan to 31 Dec 2027 can be made/,
    );
    const bought = planWith({
      orders: [order("2027-01-18", 40)],
      brews: [
        brewed("b0", "2027-02-01", { bought: 400_000 }),
        brewed("b1", "2027-02-08", { bought: 400_000 }),
      ],
      unbrewed: [left[2]!],
    });
    expect(say(lackingSeason, bought)).toMatch(
      /^All malt for 2 of 3 brews from 18 Jan to 31 Dec 2027 is bought/,
    );
  });

  test("says how much must leave how many bins, and by when", () => {
    const season = farm({ brews: [asked("b0", "2027-02-01")] });
    const plan = planWith({
      brews: [brewed("b0", "2027-02-01", { "old-pale": 400_000 })],
      feedLoads: [{
        id: "load-1",
        standing: "not booked",
        pickupId: "cattle",
        on: "2027-06-21",
        items: [
          { lotId: "lot-a", storeId: "bin-1", massG: 10_000_000 },
          { lotId: "lot-c", storeId: "bin-2", massG: 3_000_000 },
        ],
        revenueCents: 1,
      }],
      fills: [
        { on: "2027-07-08", lotId: "lot-g", storeId: "bin-1", massG: 10_000_000 },
        { on: "2027-07-08", lotId: "lot-g", storeId: "bin-2", massG: 8_000_000 },
      ],
    });
    expect(say(season, plan)).toBe(
      "Home-grown grain makes 100 % of the malt for 1 brew from 18 Jan to 31 Dec 2027; home malt does not run short; 13.0 t must leave two bins by about 5 Jul.",
    );
  });
});

describe("what must leave", () => {
  test("counts moves beside loads, and tells the first and the last day", () => {
    const season = farm({ brews: [asked("b0", "2027-02-01")] });
    const plan = planWith({
      brews: [brewed("b0", "2027-02-01", { "old-pale": 400_000 })],
      moves: [{
        id: "move-1",
        standing: "not booked",
        on: "2027-07-01",
        lotId: "lot-a",
        fromStoreId: "bin-1",
        toStoreId: "bin-2",
        massG: 10_000_000,
        lossG: 50_000,
      }],
      feedLoads: [FEED_OF_C],
      fills: [{ on: "2027-07-08", lotId: "lot-g", storeId: "bin-1", massG: 18_000_000 }],
    });
    expect(say(season, plan)).toMatch(
      /; 13\.0 t must leave two bins, the first by 28 Jun, the last by about 5 Jul\.$/,
    );
  });
});

test("what must leave keeps a store's proper name and lowers any other, whatever stores are called", () => {
  const told = (name: string) => {
    const [first, second] = farm().stores;
    const season = farm({ stores: [first!, { ...second!, name }], brews: [asked("b0", "2027-02-01")] });
    const plan = planWith({
      feedLoads: [FEED_OF_C],
      fills: [{ on: "2027-07-08", lotId: "lot-g", storeId: "bin-2", massG: 18_000_000 }],
    });
    const words = drawnYear(season, plan).stores[1]!.mustLeave[0]!.words.go;
    const said = say(season, plan);
    return [words, said.slice(said.indexOf("3.0 t"), -1)];
  };
  for (
    const [name, inside] of [
      ["Bin 2", "bin 2"],
      ["Tall silo", "tall silo"],
      ["Bin Hill", "Bin Hill"],
      ["The Old Barn", "the Old Barn"],
    ] as const
  ) {
    const words = `3.0 t must leave ${inside} by about 5 Jul`;
    expect(told(name)).toEqual([words, words]);
  }
});

describe("the year's sentence, where malt runs short more than once", () => {
  /** One brew a month: those of the days named are made of bought malt, for so much of their grist. */
  const monthly = ["2027-02-01", "2027-03-01", "2027-04-05", "2027-05-03", "2027-06-07"];
  const shortOn = (boughtG: Record<string, number>, other: Partial<SeasonFile> = {}) =>
    drawnYear(
      farm({ brews: monthly.map((on, i) => asked(`b${i}`, on)), ...other }),
      planWith({
        orders: [order("2027-01-18", 40)],
        brews: monthly.map((on, i) =>
          brewed(`b${i}`, on, { "old-pale": 400_000 - (boughtG[on] ?? 0), bought: boughtG[on] ?? 0 })
        ),
      }),
    );

  test("names the first day, underlines it, and ends with the worst", () => {
    const year = shortOn({ "2027-03-01": 60_000, "2027-05-03": 150_000 });
    expect(sentenceText(yearSentence(year))).toContain(
      "; home pale malt runs short on 1 Mar, back on 2 Mar, again on 3 May, not back in this plan.",
    );
    expect(yearSentence(year).filter(({ strong }) => strong).map(({ text }) => text)).toEqual([
      "home pale malt runs short on 1 Mar, back on 2 Mar",
    ]);
  });

  test("says again of a malt whose name holds the sentence's own words", () => {
    const [pale] = farm().maltTypes;
    const maltTypes = [{ ...pale!, name: "Never runs short pale" }];
    const year = shortOn({ "2027-03-01": 60_000, "2027-05-03": 150_000 }, { maltTypes });
    expect(sentenceText(yearSentence(year))).toContain(
      "; home never runs short pale malt runs short on 1 Mar, back on 2 Mar, again on 3 May, not back in this plan.",
    );
  });

  test("counts what comes after the worst", () => {
    const year = shortOn({ "2027-03-01": 150_000, "2027-05-03": 60_000 });
    expect(sentenceText(yearSentence(year))).toMatch(
      /; home pale malt runs short on 1 Mar, back on 2 Mar, and once more\.$/,
    );
  });

  test("leaves out what is small beside the worst", () => {
    const year = shortOn({ "2027-03-01": 8_000, "2027-05-03": 150_000 });
    expect(sentenceText(yearSentence(year))).toContain(
      "; home pale malt runs short on 3 May, not back in this plan.",
    );
  });
});

describe("what is next", () => {
  test("is the hand-overs of today and tomorrow, the order and the lorry", () => {
    const season = farm();
    const plan = planWith({
      runs: [run("r1", "2027-01-18"), run("r2", "2027-01-25")],
      orders: [order("2027-01-22", 40)],
      feedLoads: [FEED_OF_C],
    });
    expect(nextLine(drawnYear(season, plan)).text).toBe(
      "steep in today at 8:00 (run 1); order 40 packs of pale (1.0 t) by 22 Jan; ask for a feed lorry on 21 Jun: 3.0 t of C",
    );
  });

  test("leaves out what should be done by now", () => {
    const season = farm({ asOf: "2027-01-18T09:00" });
    expect(nextLine(drawnYear(season, planWith({ runs: [run("r1", "2027-01-18")] }))).jobs).toEqual([]);
  });

  test("is nothing when nothing is to be done", () => {
    expect(nextLine(drawnYear(farm(), null))).toEqual({ jobs: [], text: "nothing has to be done yet" });
  });
});

describe("shortfalls", () => {
  const causeOf = (season: Season, plan: Plan): Shortfall => {
    const found = drawnShortfalls(season, plan);
    expect(found).toHaveLength(1);
    return found[0]!;
  };
  /** One brew on bought malt on 2 April, which a run started up to 5 March could have fed. */
  const brews = [asked("b0", "2027-04-02")];
  const opening = { grain: farm().opening.grain, malt: [] };
  const short = (other: Partial<Plan> = {}) =>
    planWith({
      orders: [order("2027-02-01", 16)],
      brews: [brewed("b0", "2027-04-02", { bought: 390_000 })],
      ...other,
    });

  test("name the bed when every start is taken", () => {
    const runs = mondays("2027-01-18", 9).map((monday, i) => run(`r${i}`, monday, { outputs: [] }));
    expect(causeOf(farm({ brews, opening }), short({ runs }))).toMatchObject({
      cause: "bed full",
      massG: 390_000,
      promisesBroken: 1,
      beers: [{ name: "Field Pale", brews: 1 }],
      sentence:
        "Home pale malt runs short on 2 Apr, not back in this plan: all 390 kg lacking for 1 brew (1 Field Pale); bought malt covers it, 1 home-share promise does not hold. First cause: the germination bed is full: no further run can be started 21 Jan to 4 Mar beside those planned.",
    });
  });

  test("tell buying by choice from having to", () => {
    expect(causeOf(farm({ brews, opening }), short()).cause).toBe("bought by choice");
  });

  test("name the grain: none, asleep, past its date, awaiting a result", () => {
    const [a, c, g] = farm().lots;
    const withLot = (lot: Partial<NonNullable<typeof a>>) =>
      causeOf(farm({ brews, opening, lots: [{ ...a!, ...lot }, c!, g!] }), short()).cause;
    expect(withLot({ use: "feed" })).toBe("no grain");
    expect(withLot({ wakesOn: { early: "2027-05-01", likely: "2027-05-02", late: "2027-05-03" } })).toBe(
      "not awake",
    );
    expect(withLot({ useBy: { on: "2027-01-15", reason: "sprouted" } })).toBe("too old");
    const analyses = [{ id: "test-1", sampledOn: "2027-01-10", expectedOn: "2027-06-01" }];
    expect(withLot({ analyses })).toBe("awaiting result");
  });

  test("name the grain when it ran out long before the last useful start, although starts were free", () => {
    const fed = short({
      feedLoads: [{
        id: "load-1",
        standing: "booked",
        pickupId: "cattle",
        on: "2027-01-25",
        items: [{ lotId: "lot-a", storeId: "bin-1", massG: 10_000_000 }],
        revenueCents: 1,
      }],
    });
    expect(causeOf(farm({ brews, opening }), fed).cause).toBe("no grain");
  });

  test("ask for a load of the smallest line, not of the greatest vessel, screenings included", () => {
    const lines = ["small", "large"].flatMap((line) =>
      farm().vessels.map((one) => ({
        ...one,
        id: `${one.id}-${line}`,
        line,
        loadLimits: [
          line === "small"
            ? { crop: "barley" as const, leastG: 500_000, greatestG: 1_000_000 }
            : { crop: "barley" as const, leastG: 2_000_000, greatestG: 4_000_000 },
        ],
      }))
    );
    const withGrain = (massG: number) =>
      causeOf(
        farm({
          brews,
          vessels: lines,
          opening: { grain: [{ lotId: "lot-a", storeId: "bin-1", massG }], malt: [] },
        }),
        short(),
      ).cause;
    expect(withGrain(800_000)).toBe("bought by choice");
    // A twenty-fifth is screened out: 520 kg leave 499.2 kg for a vessel that asks for 500.
    expect(withGrain(520_000)).toBe("no grain");
    expect(withGrain(521_000)).toBe("bought by choice");
  });

  test("name people, held days, late calls and a full malt store", () => {
    const season = farm({ brews, opening });
    const { roster } = season;
    expect(causeOf({ ...season, roster: { ...roster, weekly: [] } }, short()).cause).toBe("nobody there");
    expect(causeOf({ ...season, roster: { ...roster, heldDays: 60 } }, short()).cause).toBe("held days");
    expect(causeOf({ ...season, asOf: "2027-03-20T07:00" }, short()).cause).toBe("no malt in time");
    const stuffed = { ...season, maltStore: { places: 1, placeG: 500_000 } };
    const runs = [run("r0", "2027-01-18")];
    expect(causeOf(stuffed, short({ runs })).cause).toBe("malt store full");
  });

  test("tell of tanks and of grain without a store too", () => {
    const wanted = ["2027-04-05", "2027-04-06", "2027-04-07"].map((on, i) => asked(`t${i}`, on));
    const plan = planWith({
      unbrewed: wanted.map(({ id }) => ({
        id,
        beerId: "field-pale",
        cause: "tanks full",
        why: "no tank is free",
      })),
      fills: [{ on: "2027-07-08", lotId: "lot-g", storeId: "bin-1", massG: 10_000_000 }],
      leftOut: [{ on: "2027-07-08", lotId: "lot-g", massG: 8_500_000 }],
    });
    const found = drawnShortfalls(farm({ brews: wanted }), plan);
    expect(found.filter(({ kind }) => kind === "tanks").map(({ sentence }) => sentence)).toEqual([
      expect.stringMatching(
        /^3 tanks of 2 are asked for, 7 Apr to .*First cause: .*more tanks than there are\.$/,
      ),
    ]);
    expect(found.filter(({ kind }) => kind === "no room").map(({ massG, sentence }) => [massG, sentence]))
      .toEqual([[
        8_500_000,
        expect.stringMatching(
          /^G barley of Long Bottom: no room for 8\.5 t of 18\.\d t, harvest about 8 Jul\./,
        ),
      ]]);
  });

  test("name the store whose grain is locked when a harvest finds no room", () => {
    const leftOut = [{ on: "2027-07-08", lotId: "lot-g", massG: 8_500_000 }];
    const whyOf = (treatedSeed: boolean) => {
      const lots = farm().lots.map((lot) => lot.id === "lot-c" ? { ...lot, treatedSeed } : lot);
      return drawnShortfalls(farm({ lots }), planWith({ leftOut })).find(({ kind }) => kind === "no room")!
        .why;
    };
    expect(whyOf(true)).toBe(`${whyOf(false)}; bin 2 holds locked grain`);
  });

  test("call grain sold under a contract grain, and malt malt", () => {
    const sold = {
      ...{ id: "sold", party: "a feed mill", from: "2027-02-01", to: "2027-03-31", perTonneCents: 20_000 },
      massG: 1_000_000,
    };
    const saidOf = (contract: NonNullable<SeasonFile["contracts"]>[number]) =>
      drawnShortfalls(
        farm({ contracts: [contract] }),
        planWith({ unsold: [{ contractId: "sold", cause: "no grain", why: "too little is left" }] }),
      ).find(({ kind }) => kind === "unsold")!.sentence;
    expect(saidOf({ ...sold, kind: "sell-grain", lotId: "lot-c" })).toBe(
      "A feed mill does not get 1.0 t of grain by 31 Mar. First cause: too little is left.",
    );
    expect(saidOf({ ...sold, kind: "sell-malt", maltId: "pale", class: 1 })).not.toContain("grain by");
  });

  test("keep the plan's own cause of a brew that is not made", () => {
    const plan = planWith({
      unbrewed: [{ id: "b0", beerId: "field-pale", cause: "tanks full", why: "Both tanks hold beer." }],
    });
    expect(causeOf(farm({ brews, opening }), plan)).toMatchObject({
      kind: "unbrewed",
      sentence: "Field Pale of 2 Apr is not brewed. First cause: Both tanks hold beer.",
    });
  });
});

describe("the summary", () => {
  test("prints the sentence, coverage, orders, vessels and money in columns", () => {
    const text = summarise(lackingSeason, lacking);
    expect(text).toContain("Hand Farm, plan as of Monday 18 January 2027");
    expect(text).toMatch(
      /Beers +asked +made +home % +promise held +home malt until\nField Pale +3 +3 +67 +2 of 3 +22 Feb/,
    );
    expect(text).toMatch(
      /Orders +order by +arrives +packs +weight +cost\npale +1 Feb +11 Feb +16 +400 kg +730/,
    );
    expect(text).toMatch(/Germination bed +\d+ +\d+ +25 Jan to/);
    expect(text).toMatch(/Money, EUR +cost\nruns +1,200\n/);
    expect(Math.max(...text.split("\n").map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  test("speaks the reader's units", () => {
    expect(summarise({ ...lackingSeason, readerUnits: "us" }, lacking)).toMatch(/pale +1 Feb .* 882 lb/);
  });
});
