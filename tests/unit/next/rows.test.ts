/** What of a season stays, what stands again a year later, and what goes. */
import { describe, expect, test } from "vitest";
import { addDays, dayNumber, weekday } from "../../../core/calendar.ts";
import { nextSeason, type NextSeasonOptions } from "../../../core/next/next-season.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import { tailBrews } from "../../../core/season/tail.ts";
import { asked, brewed, farm, planWith, run } from "../year/hand-made.ts";

const DAY = "2027-09-01";
const next = (season: Season, plan: Plan = planWith(), date = DAY, more: Partial<NextSeasonOptions> = {}) =>
  nextSeason(season, plan, date, { id: "farm-2028", name: "Next year", ...more });
const rowsOf = (list: readonly { id: string; from: string; to: string }[]) =>
  list.map((one) => [one.id, one.from, one.to].join(" "));
const texts = (season: Season, plan?: Plan, date?: string) =>
  next(season, plan, date).notes.map((one) => one.text);
const FILLS = [{ on: "2027-07-08", lotId: "lot-g", storeId: "bin-1", massG: 5_000_000 }];

describe("the calendar", () => {
  const brews = [
    asked("early", "2027-01-04"),
    asked("spring", "2027-03-01"),
    asked("pilot", "2027-10-06", { pilot: true }),
    asked("autumn", "2027-10-04", { class: 3, volumeL: 900 }),
  ];

  test("keeps what is still to be made and repeats the last 52 weeks on the same weekdays, pilots left out", () => {
    const season = farm({ brews });
    const { season: later } = next(
      season,
      planWith({ brews: [brewed("spring", "2027-03-01", { "old-pale": 1 })] }),
    );
    expect(later.horizonEnd).toBe("2028-12-29");
    expect(later.brews.map((one) => [one.id, one.on, one.earliest, one.latest, one.class])).toEqual([
      ["pilot", "2027-10-06", "2027-10-03", "2027-10-09", 1],
      ["autumn", "2027-10-04", "2027-10-01", "2027-10-07", 3],
      ["early-r2", "2028-01-03", "2027-12-31", "2028-01-06", 1],
      ["spring-r2", "2028-02-28", "2028-02-25", "2028-03-02", 1],
      ["autumn-r2", "2028-10-02", "2028-09-29", "2028-10-05", 3],
    ]);
    expect(later.brews.at(-1)!.volumeL).toBe(900);
    for (const one of later.brews.slice(2)) {
      expect(weekday(dayNumber(one.on))).toBe(
        weekday(dayNumber(brews.find((b) => one.id.startsWith(b.id))!.on)),
      );
    }
    // The weeks after the new end repeat the new calendar, as those after the old end repeated the old one.
    expect(tailBrews(later).map((one) => one.id)).toEqual(["tail-early-r2", "tail-spring-r2"]);
  });

  test("does not ask again for a brew that is made, and asks for one that is late inside its window", () => {
    const season = farm({ brews: [asked("a", "2027-08-31"), asked("b", "2027-09-02")] });
    const made = planWith({ brews: [brewed("b", "2027-08-31", { "old-pale": 1 })] });
    expect(next(season, made).season.brews.map((one) => one.id)).toEqual(["a", "a-r2", "b-r2"]);
    expect(next(season, made).season.opening.tanks).toMatchObject([{
      tankId: "tank-1",
      since: "2027-08-31",
    }]);
  });

  test("says which brews are over and were not made", () => {
    const season = farm({ brews: [asked("a", "2027-03-01"), asked("b", "2027-10-04")] });
    expect(texts(season)).toContain("Not made, and their days are over: Field Pale of 1 Mar 2027.");
  });

  test("keeps brews that are over where the weeks after a short season repeat them", () => {
    const { season: later } = next(farm({ brews }), planWith(), DAY, { horizonEnd: "2027-12-31" });
    expect(later.brews.map((one) => one.id)).toEqual(["early", "spring", "pilot", "autumn"]);
    expect(tailBrews(later).map((one) => one.id)).toEqual(tailBrews(farm({ brews })).map((one) => one.id));
  });

  test("asks for no brew again that the plan made in the weeks after the old end", () => {
    const season = farm({ brews: [asked("a", "2027-01-11")] });
    const made = planWith({ brews: [brewed("tail-a", "2028-01-09", { "old-pale": 1 })] });
    const ids = (plan: Plan) => next(season, plan, "2028-01-10").season.brews.map((one) => one.id);
    expect([ids(planWith()), ids(made)]).toEqual([["a-r2"], []]);
  });

  test("gives repeats ids that fit, are their own, and leave room for their repeats after the horizon", () => {
    const long = "a".repeat(35);
    const season = farm({
      brews: [
        asked(long, "2027-10-04"),
        asked("b", "2027-10-05"),
        asked("b-r2", "2027-10-06"),
        asked("c-r9", "2027-10-07"),
      ],
      seedReserves: [{ id: "b-r3", lotId: "lot-a", massG: 1, on: "2027-02-01" }, {
        id: "tail-c-r10",
        lotId: "lot-a",
        massG: 1,
        on: "2027-02-01",
      }],
    });
    const { season: later } = next(season);
    expect(later.brews.slice(4).map((one) => one.id)).toEqual([
      `${"a".repeat(32)}-r2`,
      "b-r4",
      "b-r5",
      "c-r11",
    ]);
    expect(checkSeason(later, { asOf: later.asOf }).findings.filter((one) => one.level === "error")).toEqual(
      [],
    );
  });
});

describe("what is offered", () => {
  const [offer] = farm().supplyOffers, [pickup] = farm().feedPickups;

  test("runs on if it ran on at the old end, else stands again 364 days later", () => {
    const window = (id: string, from: string, to: string) => ({ ...offer!, id, from, to });
    const season = farm({
      supplyOffers: [
        window("all-year", "2027-01-01", "2028-03-24"),
        window("spring", "2027-03-01", "2027-04-30"),
        window("autumn", "2027-10-01", "2027-11-30"),
        window("long-over", "2026-03-01", "2026-04-30"),
        window("next-winter", "2028-01-10", "2028-03-01"),
      ],
      bookValues: ["/supplyOffers/1/shelfLifeDays", "/supplyOffers/2/shelfLifeDays"],
    });
    const { season: later } = next(season);
    expect(rowsOf(later.supplyOffers)).toEqual([
      "all-year 2027-01-01 2029-03-23",
      "autumn 2027-10-01 2027-11-30",
      "next-winter 2028-01-10 2028-03-01",
      "spring-r2 2028-02-28 2028-04-28",
      "autumn-r2 2028-09-29 2028-11-28",
    ]);
    expect(later.bookValues).toEqual([
      "/supplyOffers/3/shelfLifeDays",
      "/supplyOffers/1/shelfLifeDays",
      "/supplyOffers/4/shelfLifeDays",
    ]);
  });

  test("stays where an order names it", () => {
    const season = farm({ supplyOffers: [{ ...offer!, from: "2026-10-01", to: "2026-12-01" }] });
    const order = {
      id: "order-1",
      offerId: "maltings",
      orderedOn: "2026-11-30",
      arrivesOn: "2027-10-01",
      packs: 10,
      batchId: "bought",
    };
    const ordered: Season = { ...season, records: { ...season.records, orders: [order] } };
    expect(next(season).season.supplyOffers).toEqual([]);
    expect(next(ordered).season.supplyOffers.map((one) => one.id)).toEqual(["maltings"]);
    expect(next(ordered).season.records.orders).toEqual([order]);
  });

  test("feed pick-ups stay with the loads that are left, and stand again with all of them", () => {
    const window = (id: string, from: string, to: string) => ({ ...pickup!, id, from, to });
    const season = farm({
      feedPickups: [
        window("spring", "2027-03-01", "2027-04-30"),
        window("autumn", "2027-08-01", "2027-11-30"),
      ],
    });
    const load = {
      id: "load-1",
      standing: "not booked" as const,
      pickupId: "autumn",
      on: "2027-08-02",
      items: [{ lotId: "lot-a", storeId: "bin-1", massG: 2_000_000 }],
      revenueCents: 1,
    };
    const { season: later } = next(season, planWith({ feedLoads: [load] }));
    expect(later.feedPickups.map((one) => [one.id, one.from, one.mostLoads])).toEqual([
      ["autumn", "2027-08-01", 1],
      ["spring-r2", "2028-02-28", 2],
      ["autumn-r2", "2028-07-30", 2],
    ]);
  });
});

describe("land and lots", () => {
  test("a planting whose grain is gone goes into the crop history of its fields; what is in store keeps its own", () => {
    const season = farm({ opening: { grain: [{ lotId: "lot-c", storeId: "bin-2", massG: 3_000_000 }] } });
    const { season: later } = next(season, planWith({ fills: FILLS }));
    expect(later.lots.map((one) => one.id)).toEqual(["lot-c", "lot-g"]);
    expect(later.plantings.map((one) => [one.id, one.state])).toEqual([["barley-2027", "harvested"]]);
    expect(later.weighTickets).toEqual([]);
    // Long Bottom has an entry for 2026 already.
    const before = new Map(season.fields.map((one) => [one.id, one.cropHistory]));
    for (const field of later.fields) {
      const had = before.get(field.id)!;
      const grew = season.plantings[0]!.fieldIds.includes(field.id) && !had.some((one) => one.year === 2026);
      expect(field.cropHistory).toEqual(
        grew ? [...had, { year: 2026, crop: "spring barley" }].sort((a, b) => a.year - b.year) : had,
      );
    }
    expect(texts(season, planWith({ fills: FILLS }))).toContain(
      "Used up, and in nothing that is left: lot A.",
    );
  });

  test("an empty lot stays while one in store descends from it, and its planting with it", () => {
    const season = farm({ opening: { grain: [{ lotId: "lot-c", storeId: "bin-2", massG: 3_000_000 }] } });
    const lots = season.lots.map((one): Season["lots"][number] =>
      one.id === "lot-c" ? { ...one, parents: [{ kind: "lot", lotId: "lot-a", massG: 3_000_000 }] } : one
    );
    const { season: later } = next({ ...season, lots });
    expect(later.lots.map((one) => one.id)).toContain("lot-a");
    expect(later.plantings.map((one) => one.id)).toContain("barley-2026");
    expect(later.weighTickets).toEqual(season.weighTickets);
  });

  test("an empty lot stays while a contract, a booking, a seed reserve or a beer names it", () => {
    const empty = { opening: { grain: [], malt: [] } };
    const keeps = (other: Parameters<typeof farm>[0]) =>
      next(farm({ ...empty, ...other })).season.lots.some((one) => one.id === "lot-a");
    const window = { from: "2027-01-18", to: "2027-12-31" };
    const sale = { id: "sale", party: "A mill", massG: 1000, perTonneCents: 1, ...window };
    const move = {
      id: "move",
      on: "2027-10-04",
      lotId: "lot-a",
      fromStoreId: "bin-1",
      toStoreId: "bin-2",
      massG: 1,
      lossG: 0,
    };
    const { standing: _, screeningsG: _s, cleanG: _c, culmsG: _u, outputs: _o, ...booked } = run(
      "r9",
      "2027-10-04",
    );
    const requires = [{ kind: "lot" as const, ids: ["lot-a"], leastShare: 0.5 }];
    expect(keeps({})).toBe(false);
    expect(keeps({ contracts: [{ ...sale, kind: "sell-grain", lotId: "lot-a" }] })).toBe(true);
    expect(
      keeps({ contracts: [{ ...sale, kind: "sell-malt", maltId: "pale", class: 1, lotIds: ["lot-a"] }] }),
    )
      .toBe(true);
    expect(keeps({ bookings: { moves: [move] } })).toBe(true);
    expect(keeps({ bookings: { runs: [booked] } })).toBe(true);
    expect(keeps({ seedReserves: [{ id: "seed", lotId: "lot-a", massG: 1, on: DAY }] })).toBe(true);
    expect(keeps({ seedReserves: [{ id: "seed", lotId: "lot-a", massG: 1, on: "2027-08-31" }] })).toBe(false);
    expect(keeps({ beers: farm().beers.map((one) => ({ ...one, requires })) })).toBe(true);
  });

  test("what malt in store was made of stays known", () => {
    const season = farm({ opening: { ...farm().opening, grain: [] } });
    expect(next(season).season.lots.map((one) => one.id)).toEqual(["lot-a", "lot-g"]);
  });
});

describe("days and agreements", () => {
  test("days off, extra hours and closures that are over go, the others stay", () => {
    const plain = farm();
    const closed = (from: string, to: string) => ({ from, to, reason: "holiday" });
    const extra = (on: string) => ({
      on,
      from: "08:00",
      to: "12:00",
      handOvers: ["strip" as const],
      costCents: 1,
    });
    const season = seasonSchema.parse({
      ...plain,
      people: [{
        id: "maltster",
        name: "The maltster",
        roles: ["maltster"],
        away: [closed("2027-08-01", "2027-08-31"), closed("2027-08-30", DAY)],
      }],
      roster: {
        ...plain.roster,
        extra: [extra("2027-08-31"), extra(DAY)],
        closed: [{ ...closed("2027-08-01", "2027-08-31"), handOvers: ["strip"] }, {
          ...closed("2027-08-30", DAY),
          handOvers: ["strip"],
        }],
      },
      brewhouse: {
        ...plain.brewhouse,
        closed: [closed("2027-08-01", "2027-08-31"), closed("2027-12-24", "2027-12-31")],
      },
      vessels: plain.vessels.map((one) => ({
        ...one,
        closures: [closed("2027-08-01T00:00", `${DAY}T00:00`), closed("2027-08-01T00:00", `${DAY}T00:01`)],
      })),
    });
    const { season: later } = next(season);
    expect(later.people[0]!.away).toEqual([closed("2027-08-30", DAY)]);
    expect(later.roster.extra.map((one) => one.on)).toEqual([DAY]);
    expect(later.roster.closed.map((one) => one.to)).toEqual([DAY]);
    expect(later.brewhouse.closed.map((one) => one.to)).toEqual(["2027-12-31"]);
    expect(later.vessels[0]!.closures.map((one) => one.to)).toEqual([`${DAY}T00:01`]);
  });

  test("a contract stays with what is left of it, in words too; bookings to come stay booked", () => {
    const sale = {
      kind: "sell-grain" as const,
      id: "sale",
      party: "A neighbour",
      lotId: "lot-a",
      massG: 4_000_000,
      from: "2027-01-18",
      to: "2027-12-31",
      perTonneCents: 1,
    };
    const load = {
      id: "load-1",
      pickupId: "cattle",
      on: "2027-10-04",
      items: [{ lotId: "lot-a", storeId: "bin-1", massG: 2_000_000 }],
    };
    const season = farm({
      contracts: [sale, { ...sale, id: "over", party: "A mill", to: "2027-08-31" }],
      bookings: { feedLoads: [load] },
    });
    const plan = planWith({
      grainDeliveries: [{
        contractId: "sale",
        on: "2027-02-01",
        lotId: "lot-a",
        storeId: "bin-1",
        massG: 3_000_000,
      }],
    });
    const { season: later, notes } = next(season, plan);
    expect(later.contracts).toEqual([{ ...sale, massG: 1_000_000 }]);
    expect(later.bookings.feedLoads).toEqual(season.bookings.feedLoads);
    expect(notes).toContainEqual({
      kind: "carried over",
      text: "The contract with A neighbour stays with the 1.0 t still to be delivered.",
    });
    expect(notes).toContainEqual({
      kind: "dropped",
      text: "The contract with A mill is over, and 4.0 t of it were not delivered.",
    });
  });

  test("grain that is bought stays until its day", () => {
    const bought = (on: string) => {
      const contract = {
        kind: "buy-grain" as const,
        id: "buy",
        party: "A farm",
        lotId: "lot-c",
        massG: 1,
        on,
        perTonneCents: 1,
      };
      const fills = [{ on, lotId: "lot-c", storeId: "bin-2", massG: 1 }];
      return next(farm({ contracts: [contract] }), planWith({ fills })).season.contracts.length;
    };
    expect([bought("2027-08-31"), bought(DAY), bought("2027-10-01")]).toEqual([0, 1, 1]);
  });

  test("what is booked keeps its brew and its pick-up, even outside their days", () => {
    const [pickup] = farm().feedPickups;
    const load = {
      id: "load-1",
      pickupId: "cattle",
      on: "2027-10-04",
      items: [{ lotId: "lot-a", storeId: "bin-1", massG: 2_000_000 }],
    };
    const season = farm({
      brews: [asked("late", "2027-08-02")],
      feedPickups: [{ ...pickup!, from: "2026-12-01", to: "2026-12-31" }],
      bookings: { brews: [{ brewId: "late", on: DAY }], feedLoads: [load] },
    });
    const { season: later } = next(season);
    expect([later.brews[0]!.id, later.feedPickups.map((one) => [one.id, one.mostLoads])]).toEqual([
      "late",
      [["cattle", 2]],
    ]);
    expect(later.bookings).toEqual(season.bookings);
  });

  test("a run under way goes on in the new season", () => {
    const { season: later, notes } = next(farm(), planWith({ runs: [run("r1", "2027-08-30")] }));
    expect(later.records.runs).toMatchObject([{ id: "r1", steepInAt: "2027-08-30T08:00" }]);
    expect(notes.map((one) => one.text)).toContain("Recorded as under way: 1 malting run.");
  });
});

describe("is refused in words", () => {
  test("on a day that is past, or, without a plan, on any but the day of the records", () => {
    expect(() => next(farm(), planWith(), "2027-01-18")).toThrow(/from 2027-01-19/);
    expect(() => nextSeason(farm(), null, DAY, { id: "x", name: "x" })).toThrow(
      /only on the day .* 2027-01-18, not on 2027-09-01/,
    );
  });

  test("with an end before the old one, or more than three years away", () => {
    for (const horizonEnd of ["2027-12-30", addDays(DAY, 1097)]) {
      expect(() => next(farm(), planWith(), DAY, { horizonEnd })).toThrow(
        /has to end on a day from 2027-12-31 to 2030-09-01/,
      );
    }
    expect(next(farm(), planWith(), DAY, { horizonEnd: "2030-09-01" }).season.horizonEnd).toBe("2030-09-01");
  });
});
