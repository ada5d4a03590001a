import { describe, expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { expectedAndCome } from "../../../core/year/expected.ts";
import { demoSeason } from "../../_support/demo.ts";

const demo = demoSeason();
const told = expectedAndCome(demo, new Map());
const of = (kind: string) => told.filter((one) => one.kind === kind);

describe("what was expected and what came", () => {
  test("of every harvest that was weighed: the likely yield beside the tickets", () => {
    const weighed = demo.plantings.filter((one) =>
      one.state === "harvested" && demo.weighTickets.some((ticket) => ticket.plantingId === one.id)
    );
    expect(of("harvest").map(({ id }) => id)).toEqual(weighed.map(({ id }) => id));
    const [planting] = weighed;
    const tickets = demo.weighTickets.filter((one) => one.plantingId === planting!.id);
    const [cut, , last] = of("harvest")[0]!.values;
    expect(cut).toMatchObject({
      expected: Math.round(planting!.areaM2 / 10 * planting!.yieldKgPerHa.likely),
      came: tickets.reduce((sum, one) => sum + one.massG, 0),
    });
    expect(last!.expected).toBe(dayNumber(planting!.harvest.likely));
  });

  test("of every run that was stripped: the book's malt beside the weighed", () => {
    const stripped = demo.records.runs.filter((one) => one.stripAt !== undefined && one.outputs.length > 0);
    expect(of("run").map(({ id }) => id).sort()).toEqual(stripped.map(({ id }) => id).sort());
    for (const { values } of of("run")) {
      const [malt] = values;
      expect(Math.abs(malt!.came / malt!.expected - 1)).toBeLessThan(0.15);
    }
  });

  test("of a run that had been booked: its days too", () => {
    const run = demo.records.runs.find((one) => one.stripAt !== undefined && one.outputs.length > 0)!;
    const booked = {
      ...run,
      castAt: "",
      kilnAt: "",
      steepInAt: "2026-09-01T08:00",
      stripAt: "2026-09-09T08:00",
    };
    const [row] = expectedAndCome(demo, new Map([[run.id, booked]])).filter((one) => one.id === run.id);
    expect(row!.values.map(({ what }) => what)).toEqual(["malt", "steep-in", "strip"]);
    expect(row!.values[1]).toMatchObject({
      expected: dayNumber("2026-09-01"),
      came: dayNumber(run.steepInAt.slice(0, 10)),
    });
  });

  test("of every brew that was made: the day it was wanted on beside its own", () => {
    expect(of("brew")).toHaveLength(demo.records.brews.length);
    const moved = { ...demo, brews: demo.brews.map((one) => ({ ...one, on: "2026-09-01" })) };
    const late = expectedAndCome(moved, new Map()).find((one) => one.kind === "brew")!.values[0]!;
    expect(late.expected).toBe(dayNumber("2026-09-01"));
    expect(late.came).not.toBe(late.expected);
  });

  test("of a lot that was judged to wake and then measured awake", () => {
    const lots = demo.lots.map((lot) => ({
      ...lot,
      wakesOn: { early: "2026-09-01", likely: "2026-10-01", late: "2026-10-20" },
    }));
    const b = expectedAndCome({ ...demo, lots }, new Map()).find((one) =>
      one.kind === "waking" && one.id === "lot-b"
    );
    expect(b?.values[0]).toMatchObject({ expected: dayNumber("2026-10-01"), came: dayNumber("2026-10-12") });
  });
});
