/** Seed of days gone by, which nobody recorded: from which stores it is taken to have left. */
import { describe, expect, test } from "vitest";
import { bookAt } from "../../../core/book/book.ts";
import { addDays, dayNumber, isoDate } from "../../../core/calendar.ts";
import { microSeason } from "../../../core/generate/micro.ts";
import { checkSeason } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { pastSeed } from "../../../core/season/seed.ts";
import { journalOf } from "../../../core/year/journal.ts";

const base = microSeason(13, "plain");
const lotId = base.lots[0]!.id, today = base.asOf.slice(0, 10);
const day = (after: number) => addDays(today, after);
const lay = (storeId: string, massG: number) => ({ lotId, storeId, massG });
const seed = (id: string, after: number, massG: number) => ({ id, lotId, massG, on: day(after) });

/** Stocks were counted ten days ago: 600 g in bin two, and 500 g came into bin one six days ago. */
function season(change: (season: Season) => void = () => {}): Season {
  const made = structuredClone(base);
  made.positionAt = `${day(-10)}T06:00`;
  made.opening.grain = [lay("bin-two", 600)];
  made.records.fills = [{ id: "fill", on: day(-6), ...lay("bin-one", 500) }];
  change(made);
  return made;
}

function parts(made: Season): string[] {
  return pastSeed(made, dayNumber(today)).map((part) =>
    `${part.reserveId}: ${part.massG} from ${part.storeId} on ${isoDate(part.day)}`
  );
}

function stocks(made: Season): Record<string, number> {
  return Object.fromEntries(bookAt(made, made.asOf).grain.get(lotId) ?? []);
}

test("the earliest reserve first, from the store that held the lot first, split where that runs out", () => {
  const made = season((one) => one.seedReserves = [seed("late", -3, 400), seed("early", -5, 500)]);
  expect(parts(made)).toEqual([
    `early: 500 from bin-two on ${day(-5)}`,
    `late: 100 from bin-two on ${day(-3)}`,
    `late: 300 from bin-one on ${day(-3)}`,
  ]);
  expect(stocks(made)).toEqual({ "bin-one": 200, "bin-two": 0 });
});

test("a store that holds the lot later than the reserve's day gives nothing to it", () => {
  const made = season((one) => one.seedReserves = [seed("one", -8, 700)]);
  expect(parts(made)).toEqual([`one: 600 from bin-two on ${day(-8)}`, `one: 100 from bin-two on ${day(-8)}`]);
  expect(stocks(made)).toEqual({ "bin-one": 500, "bin-two": 0 });
});

test("of two stores filled on one day the season's first comes first", () => {
  const made = season((one) => {
    one.opening.grain.push(lay("bin-one", 300));
    one.seedReserves = [seed("one", -8, 400)];
  });
  expect(parts(made)).toEqual([`one: 300 from bin-one on ${day(-8)}`, `one: 100 from bin-two on ${day(-8)}`]);
});

test("what left the stores on the reserve's day is gone", () => {
  const made = season((one) => {
    one.records.feedLoads = [{ id: "load", pickupId: "any", on: day(-3), items: [lay("bin-two", 600)] }];
    one.seedReserves = [seed("one", -3, 400)];
  });
  expect(parts(made)).toEqual([`one: 400 from bin-one on ${day(-3)}`]);
});

test("only reserves between the opening position and the day of as-of have left", () => {
  const made = season((one) =>
    one.seedReserves = [seed("before", -11, 1), seed("first", -10, 2), seed("last", -1, 4), seed("now", 0, 8)]
  );
  expect(parts(made).map((part) => part.split(":")[0])).toEqual(["first", "last"]);
  expect(stocks(made)).toEqual({ "bin-one": 500, "bin-two": 594 });
});

describe("seed that is not there", () => {
  const short = (adjustG: number) =>
    season((one) => {
      one.seedReserves = [seed("one", -2, 1150)];
      const count = {
        id: "count",
        on: day(-1),
        lotId,
        storeId: "bin-two",
        deltaG: adjustG,
        reason: "weighed",
      };
      one.records.adjustments = [count];
    });
  const told = (made: Season) =>
    checkSeason(made).findings.filter((one) => one.code === "used-over-stock").map((one) => one.field);

  test("is missing from the store that held the lot first, until a count says where it came from", () => {
    expect(told(short(0))).toEqual(["/seedReserves/0"]);
    expect(stocks(short(0))).toEqual({ "bin-one": 0, "bin-two": 0 });
    expect(told(short(50))).toEqual([]);
    expect(stocks(short(50))).toEqual({ "bin-one": 0, "bin-two": 0 });
    expect(stocks(short(57))).toEqual({ "bin-one": 0, "bin-two": 7 });
  });

  test("of a lot that never lay anywhere is told as well", () => {
    const made = season((one) => {
      one.opening.grain = [];
      one.records.fills = [];
      one.seedReserves = [seed("one", -2, 10)];
    });
    expect(parts(made)).toEqual([]);
    expect(told(made)).toEqual(["/seedReserves/0"]);
  });
});

test("the year draws it out of the same stores, and without a plan what is still to come as well", () => {
  const made = season((one) => one.seedReserves = [seed("late", 3, 400), seed("early", -5, 500)]);
  expect(journalOf(made, null).seed.map((one) => [one.refId, one.storeId, one.massG, one.standing])).toEqual([
    ["early", "bin-two", 500, "done"],
    ["late", "bin-two", 100, "booked"],
    ["late", "bin-one", 300, "booked"],
  ]);
});
