/** When a lot may be steeped, seen from its results, its store and its harvest. */
import { describe, expect, test } from "vitest";
import { context } from "../../../core/audit/context.ts";
import { lotClock } from "../../../core/audit/lot-clock.ts";
import { dayNumber, isoDate } from "../../../core/calendar.ts";
import { daysUntilViability, VIABILITY } from "../../../core/physics/viability.ts";
import type { Analysis } from "../../../core/season/grain.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of } from "./_variant.ts";

function clock(lotId: string, change: (season: Season) => void = () => {}) {
  const season = handSeason();
  change(season);
  const { made } = of(season.maltTypes, "pale");
  if (made.from !== "grain") throw new Error("pale is made from grain");
  return lotClock(context(season, handPlan()), of(season.lots, lotId), made.acceptance);
}

const day = (number: number) => Number.isFinite(number) ? isoDate(number) : String(number);
const result = (resultOn: string, values: Partial<Analysis>): Analysis => ({
  id: `r-${resultOn}`,
  sampledOn: "2026-09-01",
  resultOn,
  ...values,
});

describe("awake", () => {
  test("from the first result that is good enough, in the order of days", () => {
    const change = (season: Season) => {
      of(season.lots, "b").analyses.push(
        result("2027-01-12", { germinativeEnergy: 0.97 }),
        result("2027-01-11", { germinativeEnergy: 0.95 }),
      );
    };
    expect(day(clock("b", change).awakeDay)).toBe("2027-01-11");
    expect(clock("b", change).spent).toBe(false);
  });

  test("else from the late judgement", () => {
    expect(day(clock("b").awakeDay)).toBe("2027-02-02");
  });

  test("else a forecast lot rests after its last harvest", () => {
    expect(day(clock("f").awakeDay)).toBe("2027-08-14");
    const twice = (season: Season) => {
      const second = structuredClone(of(season.plantings, "plant-f"));
      second.id = "plant-f2";
      second.harvest.likely = "2027-07-10";
      season.plantings.push(second);
    };
    expect(day(clock("f", twice).awakeDay)).toBe("2027-08-19");
    expect(day(clock("f", (season) => of(season.lots, "f").forecast = false).awakeDay)).toBe("Infinity");
  });

  test("else never: a purchase has no harvest", () => {
    expect(clock("g").awakeDay).toBe(Infinity);
  });

  test("spent only when the latest result fails and an earlier one did not", () => {
    const after = (first: number, second: number) =>
      clock("b", (season) => {
        of(season.lots, "b").analyses = [
          result("2027-01-12", { germinativeEnergy: second }),
          result("2027-01-11", { germinativeEnergy: first }),
        ];
      }).spent;
    expect([after(0.95, 0.949), after(0.949, 0.95), after(0.93, 0.94), after(0.96, 0.95)]).toEqual([
      true,
      false,
      false,
      false,
    ]);
  });
});

describe("awaited", () => {
  test("the latest of the expected days; never when one has none", () => {
    expect(clock("b").awaitedDay).toBe(-Infinity);
    expect(day(clock("x").awaitedDay)).toBe("2027-04-05");
    const more = (expectedOn?: string) => (season: Season) => {
      of(season.lots, "x").analyses.push({
        id: "x-9",
        sampledOn: "2027-01-10",
        ...(expectedOn === undefined ? {} : { expectedOn }),
      });
    };
    expect(day(clock("x", more("2027-04-09")).awaitedDay)).toBe("2027-04-09");
    expect(day(clock("x", more("2027-04-01")).awaitedDay)).toBe("2027-04-05");
    expect(clock("x", more()).awaitedDay).toBe(Infinity);
  });
});

describe("last day", () => {
  /** Days from 97 % to 90 % in a store that is always so warm. */
  const days = (tempC: number, start = 0.97) =>
    Math.floor(daysUntilViability(VIABILITY.barley, start, 0.9, 12, tempC));
  const measured = "2026-10-01";
  const warm = (values: Partial<Analysis>) => (season: Season) => {
    of(season.lots, "b").analyses = [result(measured, values)];
    of(season.stores, "bin-3").monthTempC = Array(12).fill(25);
    of(season.stores, "bin-1").monthTempC = Array(12).fill(20);
  };
  const after = (count: number) => isoDate(dayNumber(measured) + count);

  test("from the capacity, in the store it lay in first, though it is moved later", () => {
    const change = warm({ germinativeCapacity: 0.97, germinativeEnergy: 0.92 });
    expect(day(clock("b", change).lastDay)).toBe(after(days(25)));
    expect(days(25)).not.toBe(days(20));
  });

  test("from the energy when the capacity was not measured", () => {
    expect(day(clock("b", warm({ germinativeEnergy: 0.95 })).lastDay)).toBe(after(days(25, 0.95)));
  });

  test("a lot that has not come yet is taken to lie in the first store", () => {
    const change = (season: Season) => {
      of(season.lots, "a").analyses = [];
      season.lots.push({
        ...structuredClone(of(season.lots, "b")),
        id: "new",
        analyses: [result(measured, { germinativeCapacity: 0.97 })],
      });
      season.stores[0]!.monthTempC = Array(12).fill(22);
    };
    expect(day(clock("new", change).lastDay)).toBe(after(days(22)));
    expect(clock("new", (season) => (change(season), season.stores = [])).lastDay).toBe(Infinity);
  });

  test("that the plan bins it elsewhere tells nothing of where it has lain", () => {
    // The plan puts lot F into bin 2.
    const change = (season: Season) => {
      of(season.lots, "f").analyses = [result(measured, { germinativeCapacity: 0.97 })];
      of(season.stores, "bin-1").monthTempC = Array(12).fill(22);
      of(season.stores, "bin-2").monthTempC = Array(12).fill(25);
    };
    expect(day(clock("f", change).lastDay)).toBe(after(days(22)));
  });

  test("a lot dead already has its last day before the result", () => {
    expect(day(clock("b", warm({ germinativeCapacity: 0.89 })).lastDay)).toBe(after(-1));
    expect(day(clock("b", warm({ germinativeCapacity: 0 })).lastDay)).toBe(after(-1));
  });

  test("the earlier of use-by and viability; without either there is none", () => {
    expect(clock("x").lastDay).toBe(Infinity);
    const both = (on: string) => (season: Season) => {
      warm({ germinativeCapacity: 0.97 })(season);
      of(season.lots, "b").useBy = { on, reason: "x" };
    };
    expect(day(clock("b", both("2026-10-05")).lastDay)).toBe("2026-10-05");
    expect(day(clock("b", both("2028-10-05")).lastDay)).toBe(after(days(25)));
  });

  test("a malt that asks for no germination sets no limit, one that asks for all allows none", () => {
    const asks = (least: number) => (season: Season) => {
      warm({ germinativeCapacity: 0.97 })(season);
      const { made } = of(season.maltTypes, "pale");
      if (made.from === "grain") made.acceptance.germinationAtSteepLeast = least;
    };
    expect(clock("b", asks(0)).lastDay).toBe(Infinity);
    expect(day(clock("b", asks(1)).lastDay)).toBe(after(-1));
  });
});
