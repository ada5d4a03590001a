import { describe, expect, test } from "vitest";
import { dayNumber, isoDate } from "../../../core/calendar.ts";
import { type Problem, problemOf } from "../../../core/search/problem.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import { handSeason } from "../audit/_hand-season.ts";

/** The problem of the hand-written season after a change; it is planned on Monday 18 January 2027 with three held days. */
function problemWith(change: (season: Season) => void = () => {}): Problem {
  const season = handSeason();
  change(season);
  return problemOf(seasonSchema.parse(season), season.asOf);
}

const dates = (days: readonly number[]) => days.map(isoDate);
const byId = <T extends { id: string }>(things: readonly T[], id: string): T =>
  things.find((one) => one.id === id)!;

describe("days of a brew", () => {
  const daysOf = (problem: Problem, id: string) => dates(byId(problem.demands, id).days);

  test("are brew weekdays of its window that are not closed, the nearest to the wanted one first", () => {
    expect(daysOf(problemWith(), "b2")).toEqual(["2027-02-10", "2027-02-09", "2027-02-08"]);
    const friday = (season: Season) => {
      byId(season.brews, "b4").latest = "2027-03-08";
      byId(season.brews, "b4").earliest = "2027-03-05";
    };
    expect(daysOf(problemWith(friday), "b4")).toEqual(["2027-03-05", "2027-03-08"]);
  });

  test("lie after the held days, unless the brew is booked: then there is one", () => {
    const early = (season: Season) => {
      Object.assign(byId(season.brews, "b1"), {
        on: "2027-01-19",
        earliest: "2027-01-18",
        latest: "2027-01-22",
      });
      season.bookings.brews = [];
    };
    expect(daysOf(problemWith(early), "b1")).toEqual(["2027-01-21", "2027-01-22"]);
    const booked = problemWith((season) => {
      Object.assign(byId(season.brews, "b1"), { earliest: "2027-01-25", latest: "2027-01-29" });
    });
    expect(daysOf(booked, "b1")).toEqual(["2027-01-27"]);
  });

  test("are those of any brew where its booking lies in the past, and the booking is refused", () => {
    const { demands, booked } = problemWith((season) => {
      Object.assign(byId(season.brews, "b1"), {
        on: "2027-01-22",
        earliest: "2027-01-11",
        latest: "2027-01-22",
      });
      season.bookings.brews[0]!.on = "2027-01-15";
    });
    expect(dates(byId(demands, "b1").days)).toEqual(["2027-01-22", "2027-01-21"]);
    expect(booked.refused.map((one) => one.id)).toContain("b1");
  });

  test("of the tail are of a class of their own", () => {
    const { demands } = problemWith();
    expect(demands.filter((one) => one.class === 4).map((one) => one.id)).toEqual(["tail-b0"]);
  });
});

test("a beer's demand for a field counts the lots that come from it", () => {
  const { demands, lots } = problemWith();
  const [requirement] = byId(demands, "b3").requires;
  expect(lots.filter((lot) => requirement!.counts[lot.index]).map((lot) => lot.id)).toEqual(["a"]);
});

describe("orders", () => {
  const arrivals = (change?: (season: Season) => void) => dates(problemWith(change).offers[0]!.arrivals);

  test("are placed from today on, on the offer's weekdays and inside its dates, and come its lead days later", () => {
    const all = arrivals();
    expect([all[0], all[1], all.at(-1)]).toEqual(["2027-01-26", "2027-02-02", "2027-07-06"]);
    const later = arrivals((season) => {
      season.supplyOffers[0]!.from = "2027-03-02";
      season.supplyOffers[0]!.to = "2027-03-15";
    });
    expect(later).toEqual(["2027-03-09", "2027-03-16"]);
  });

  test("come before the plan ends", () => {
    const all = arrivals((season) => season.supplyOffers[0]!.to = "2027-12-31");
    expect(all.at(-1)).toBe("2027-07-20");
  });
});

describe("a pick-up", () => {
  const pickup = (change?: (season: Season) => void) => problemWith(change).pickups[0]!;

  test("is on its weekdays, inside its dates, after the held days", () => {
    const all = dates(pickup().days);
    expect([all[0], all[1], all.at(-1)]).toEqual(["2027-06-02", "2027-06-04", "2027-07-09"]);
    expect(dates(pickup((season) => season.feedPickups[0]!.from = "2027-01-01").days)[0]).toBe("2027-01-22");
  });

  test("has the loads left that are neither fetched nor booked", () => {
    const fetched = pickup((season) => {
      season.feedPickups[0]!.mostLoads = 3;
      const items = [{ lotId: "c", storeId: "bin-2", massG: 1000 }];
      season.records.feedLoads = [{ id: "l1", pickupId: "cattle", on: "2027-01-11", items }];
      season.bookings.feedLoads = [{ id: "l2", pickupId: "cattle", on: "2027-06-02", items }];
    });
    expect([pickup().loads, fetched.loads]).toEqual([1, 1]);
  });

  test("takes the farm's own untreated grain of its crops under its limit", () => {
    const taken = (change?: (season: Season) => void) => {
      const { lots, pickups } = problemWith(change);
      return lots.filter((lot) => pickups[0]!.takes[lot.index]).map((lot) => lot.id).join("");
    };
    expect(taken()).toBe("abcxfg");
    expect(taken((season) => season.feedPickups[0]!.donPpmMost = 1.5)).toBe("abxfg");
    expect(taken((season) => byId(season.lots, "a").treatedSeed = true)).toBe("bcxfg");
    expect(taken((season) => byId(season.lots, "a").owner = "a neighbour")).toBe("bcxfg");
  });
});

describe("stores", () => {
  test("hold their volume at the lot's test weight", () => {
    const { stores, lots } = problemWith();
    const holds = (store: string, lot: string) => byId(stores, store).capacityG[byId(lots, lot).index];
    expect([holds("bin-1", "a"), holds("bin-1", "c"), holds("bags", "a"), holds("bags", "w")]).toEqual([
      3_840_000,
      3_720_000,
      640_000,
      760_000,
    ]);
  });

  test("that were emptied are clean their turnaround days later", () => {
    const { stores } = problemWith((season) => {
      const items = [{ lotId: "c", storeId: "bin-2", massG: 2_000_000 }];
      season.records.feedLoads = [{ id: "l1", pickupId: "cattle", on: "2027-01-16", items }];
    });
    expect(byId(stores, "bin-2").freeDay).toBe(dayNumber("2027-01-19"));
    expect(byId(stores, "bin-1").freeDay).toBe(-Infinity);
  });
});

describe("lots", () => {
  const lot = (id: string, change?: (season: Season) => void) => byId(problemWith(change).lots, id);

  test("are raw grain when they are kept for it and sound", () => {
    expect(["a", "b", "w"].map((id) => lot(id).raw)).toEqual([false, false, true]);
    expect(lot("w", (season) => byId(season.lots, "w").analyses[0]!.donPpm = 1.01).raw).toBe(false);
  });

  test("give seed and sales on their days: what is not yet delivered of contracts that are not over", () => {
    const wants = (change?: (season: Season) => void) =>
      lot("b", change).firm.map(({ id, day, massG }) => `${id} ${isoDate(day)} ${massG}`);
    expect(wants()).toEqual(["sell-b 2027-03-01 1000000", "seed-b 2027-03-15 200000"]);
    const part = (season: Season) => {
      season.records.deliveries = [
        { id: "d1", contractId: "sell-b", lotId: "b", storeId: "bin-3", on: "2027-01-12", massG: 400_000 },
      ];
    };
    expect(wants(part)[0]).toBe("sell-b 2027-03-01 600000");
    const over = (season: Season) => {
      const contract = byId(season.contracts, "sell-b");
      if (contract.kind === "sell-grain") Object.assign(contract, { from: "2027-01-05", to: "2027-01-15" });
    };
    expect(wants(over)).toEqual(["seed-b 2027-03-15 200000"]);
  });

  test("are sold once they are there, and not at all when they come after the contract's window", () => {
    const soldOn = (from: string, to: string) => {
      const { grainSales } = problemWith((season) =>
        Object.assign(byId(season.contracts, "sell-b"), { lotId: "g", massG: 300_000, from, to })
      );
      return grainSales.map(({ day }) => day === null ? null : isoDate(day));
    };
    expect(soldOn("2027-05-20", "2027-05-31")).toEqual(["2027-05-20"]);
    expect(soldOn("2027-04-01", "2027-05-31")[0]! >= "2027-05-03").toBe(true);
    expect(soldOn("2027-04-01", "2027-04-30")).toEqual([null]);
  });

  test("are worth their best feed price at the end if they can still be malted then", () => {
    expect(lot("b").endCentsPerG).toBeCloseTo(0.015, 12);
    expect(["a", "c", "g"].map((id) => lot(id).endCentsPerG)).toEqual([0, 0, 0]);
  });
});

test("every slot's malt is ready when the plan ends, and none is steeped inside the held days", () => {
  const { slots, materials, freeDay, endDay } = problemWith();
  expect(slots.length).toBeGreaterThan(0);
  for (const slot of slots) {
    expect(slot.stripDay + materials[slot.malt]!.restDays).toBeLessThanOrEqual(endDay);
    expect(slot.steepDay).toBeGreaterThanOrEqual(freeDay);
  }
  expect([isoDate(freeDay), isoDate(endDay)]).toEqual(["2027-01-21", "2027-07-23"]);
});
