import { describe, expect, test } from "vitest";
import type { Change } from "../../../core/edit/change.ts";
import { changeWords } from "../../../core/edit/words.ts";
import { formatDay } from "../../../core/day-names.ts";
import { demoSeason } from "../../_support/demo.ts";

const demo = demoSeason();
const metric = { ...demo, readerUnits: "metric" as const, currency: "EUR" };
const [lot, brew, bin] = [demo.lots[0]!, demo.brews[0]!, demo.stores[0]!];
const beer = demo.beers.find((one) => one.id === brew.beerId)!;

function line(change: Change, season: typeof demo = metric): string {
  return changeWords(season, change).line;
}

describe("a change is told", () => {
  test("with the name of the thing, what it is of, and both values in the reader's units", () => {
    expect(line({ at: `/lots/=${lot.id}/moistureWb`, from: 0.132, to: 0.128 })).toBe(
      `lot ${lot.name}, moisture: 13.2 % → 12.8 %`,
    );
    expect(line({ at: "/costs/moveCents", from: 1200, to: 1250 })).toMatch(
      /^the costs, .*: 12\.00 EUR → 12\.50 EUR$/,
    );
    expect(line({ at: "/maltStore/placeG", from: 500_000, to: 550_000 })).toMatch(/: 500 kg → 550 kg$/);
    expect(
      line({ at: "/maltStore/placeG", from: 453_592.37, to: 907_184.74 }, { ...demo, readerUnits: "us" }),
    )
      .toMatch(/: 1,000 lb → 2,000 lb$/);
  });

  test("with days, minutes, choices and names as people write them", () => {
    expect(line({ at: `/brews/=${brew.id}/on`, from: "2027-02-01", to: "2027-02-03" })).toBe(
      `brew ${beer.name} of ${formatDay(brew.on)}, brew day: 1 Feb 2027 → 3 Feb 2027`,
    );
    expect(line({ at: `/lots/=${lot.id}/use`, from: "malting", to: "feed" })).toMatch(
      /: for malting → feed only$/,
    );
    expect(line({ at: "/brewhouse/brewWeekdays", from: [1, 2], to: [1, 5] })).toMatch(
      /: Mon, Tue → Mon, Fri$/,
    );
    expect(line({ at: `/lots/=${lot.id}/useBy`, to: { on: "2027-05-01", reason: "old" } })).toMatch(
      /nothing → as set$/,
    );
  });

  test("as something that came or went", () => {
    expect(line({ at: `/stores/=${bin.id}`, from: bin as never, index: 0 })).toBe(
      `store ${bin.name}`,
    );
    const tank = { id: "t-new", name: "Tank nine" };
    expect(line({ at: "/tanks/=t-new", to: tank, index: 3 })).toBe("Tank nine");
    expect(line({ at: "/bookings/brews/=x-9", to: { brewId: "x-9", on: "2027-03-01" }, index: 0 })).toBe(
      "brew x-9 of 1 Mar",
    );
  });
});
