import { describe, expect, test } from "vitest";
import { dayNumber } from "../../../core/calendar.ts";
import { movedBetween } from "../../../core/plan/moved.ts";
import type { Plan, PlanRun } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { drawParts, partsOf } from "../../../core/year/draw.ts";
import { oldDayLines } from "../../../core/year/old-day-words.ts";
import { type OldDays, oldDaysOf } from "../../../core/year/old-days.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

const demo = demoSeason();
const malt = demo.maltTypes.find(({ id }) => id === "pale")!;
const [brew, other] = demo.brews.filter((one) => one.on > "2027-02-01");

function run(id: string, day: string, more: Partial<PlanRun> = {}): PlanRun {
  const at = (days: number) => `${new Date(Date.parse(day) + days * 864e5).toISOString().slice(0, 10)}T08:00`;
  return {
    ...{ id, standing: "not booked", maltId: malt.id, profileId: "p" },
    vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
    draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
    ...{ steepInAt: at(0), castAt: at(2), kilnAt: at(6), stripAt: at(7) },
    ...{ screeningsG: 0, cleanG: 1_000_000, culmsG: 0, outputs: [] },
    ...more,
  };
}

const made = (id: string, on: string) => ({
  ...{ id, beerId: brew!.beerId, standing: "not booked" as const, on },
  ...{ tanks: [], grist: [], homeShare: 1, promiseHeld: true },
});

const plan = async (more: Partial<Plan>): Promise<Plan> => ({ ...await emptyPlan(demo), ...more });

async function old(before: Partial<Plan>, after: Partial<Plan>, season: Season = demo): Promise<OldDays> {
  const [was, is] = [await plan(before), await plan(after)];
  return oldDaysOf(season, was, is, movedBetween(was, is));
}

describe("where runs lay", () => {
  test("a moved run keeps the days of its three stages and says from when to when", async () => {
    const { runs, brews } = await old({ runs: [run("r1", "2027-03-08")] }, {
      runs: [run("r2", "2027-03-16")],
    });
    expect(brews).toEqual([]);
    expect(runs).toHaveLength(1);
    const [one] = runs;
    expect([one!.became, one!.id, one!.day]).toEqual(["moved", "r2", dayNumber("2027-03-16") + 1 / 3]);
    expect(one!.was.map(({ stage, vesselId, start, end }) => [stage, vesselId, start, end])).toEqual([
      ["steep", "steep", dayNumber("2027-03-08") + 1 / 3, dayNumber("2027-03-10") + 1 / 3],
      ["bed", "bed", dayNumber("2027-03-10") + 1 / 3, dayNumber("2027-03-14") + 1 / 3],
      ["kiln", "kiln", dayNumber("2027-03-14") + 1 / 3, dayNumber("2027-03-15") + 1 / 3],
    ]);
    expect(one!.words).toBe("was to be steeped 8 Mar, now 16 Mar");
  });

  test("a run of another year says which, one of another hour of the same day the hour", async () => {
    const [far] = (await old({ runs: [run("r1", "2028-02-21")] }, { runs: [run("r1", "2027-12-13")] })).runs;
    expect(far!.words).toBe("was to be steeped 21 Feb 2028, now 13 Dec 2027");
    const later = run("r1", "2027-03-08", { steepInAt: "2027-03-08T14:00" });
    const [hour] = (await old({ runs: [run("r1", "2027-03-08")] }, { runs: [later] })).runs;
    expect(hour!.words).toBe("was to be steeped 8 Mar at 8:00, now at 14:00");
  });

  test("another load or vessel is told, but has no other place unless it is another bed", async () => {
    const before = { runs: [run("r1", "2027-03-08")] };
    const [load] = (await old(before, { runs: [run("r1", "2027-03-08", { cleanG: 1_200_000 })] })).runs;
    expect([load!.was, load!.words]).toEqual([[], "was to be a load of 2,200 lb, now 2,650 lb"]);
    const in2 = (vesselIds: Partial<PlanRun["vesselIds"]>) =>
      run("r1", "2027-03-08", { vesselIds: { steep: "steep", bed: "bed", kiln: "kiln", ...vesselIds } });
    const [steep] = (await old(before, { runs: [in2({ steep: "tank 2" })] })).runs;
    expect([steep!.was, steep!.words]).toEqual([[], "was to lie in the steep, now in tank 2"]);
    expect((await old(before, { runs: [in2({ bed: "bed 2" })] })).runs[0]!.was).toHaveLength(3);
  });

  test("what is gone keeps its days and has no run of now; what is new has no days before", async () => {
    const before = { runs: [run("r1", "2027-03-08")] };
    const after = { runs: [run("r1", "2027-03-08", { maltId: "munich" })] };
    const { runs } = await old(before, after);
    expect(runs.map(({ became, id, name, was, words }) => [became, id, name, was.length, words])).toEqual([
      ["gone", null, "run of pale malt, lot A", 3, "was to be steeped 8 Mar, now not planned"],
      ["new", "r1", "run of Munich malt, lot A", 0, "to be steeped 8 Mar, not planned before"],
    ]);
  });

  test("a run that has been begun since has not gone", async () => {
    const done = { ...demo.records.runs[0]!, id: "r1" };
    const season = { ...demo, records: { ...demo.records, runs: [done] } };
    expect((await old({ runs: [run("r1", "2027-03-08")] }, {}, season)).runs).toEqual([]);
    expect((await old({ runs: [run("r2", "2027-03-08")] }, {}, season)).runs).toHaveLength(1);
  });

  test("what lies after the last day shown in both plans is left out", async () => {
    expect(demo.horizonEnd).toBe("2028-01-02");
    const runs = async (was: string, is: string) =>
      (await old({ runs: [run("r1", was)] }, { runs: [run("r1", is)] })).runs.length;
    expect([
      await runs("2028-01-03", "2028-01-10"),
      await runs("2028-01-02", "2028-01-10"),
      await runs("2028-01-10", "2028-01-02"),
    ]).toEqual([0, 1, 1]);
  });
});

test("what is over by the day of the page is news no more", async () => {
  const [before, after] = [[run("r1", "2027-01-25")], [run("r1", "2027-02-01")]];
  const told = async (asOf: string) =>
    (await old({ runs: before }, { runs: after }, { ...demo, asOf })).runs.length;
  expect([await told("2027-02-01T07:00"), await told("2027-02-02T07:00")]).toEqual([1, 0]);
});

describe("where brews stood", () => {
  test("moved, gone and new, by day", async () => {
    const before = { brews: [made("a", "2027-03-09"), made("b", "2027-02-10")] };
    const after = { brews: [made("a", "2027-03-12"), made("c", "2027-04-01")] };
    expect(
      (await old(before, after)).brews.map((
        { became, id, was, day, words },
      ) => [became, id, was, day, words]),
    )
      .toEqual([
        [
          "gone",
          "b",
          dayNumber("2027-02-10"),
          dayNumber("2027-02-10"),
          "was to be brewed 10 Feb, now not made",
        ],
        [
          "moved",
          "a",
          dayNumber("2027-03-09"),
          dayNumber("2027-03-12"),
          "was to be brewed 9 Mar, now 12 Mar",
        ],
        ["new", "c", null, dayNumber("2027-04-01"), "to be brewed 1 Apr, not planned before"],
      ]);
  });

  test("a brew that has been brewed since has not gone", async () => {
    const records = { ...demo.records, brews: [{ ...demo.records.brews[0]!, brewId: "a" }] };
    expect((await old({ brews: [made("a", "2027-03-09")] }, {}, { ...demo, records })).brews).toEqual([]);
  });
});

test("every change is told in a line, runs with their number of now", async () => {
  const before = await plan({
    runs: [run("r1", "2027-03-08"), run("r2", "2027-05-03", { maltId: "munich" })],
    brews: [made(brew!.id, brew!.on), made(other!.id, other!.on)],
  });
  const after = await plan({ runs: [run("r1", "2027-03-16")], brews: [made(other!.id, other!.on)] });
  const year = drawParts(partsOf(demo, after), oldDaysOf(demo, before, after, movedBetween(before, after)));
  const number = year.malthouse.runs.find(({ id }) => id === "r1")!.number;
  const beer = demo.beers.find(({ id }) => id === brew!.beerId)!.name;
  expect(oldDayLines(year)).toEqual([
    `Run ${number}, pale malt, lot A: was to be steeped 8 Mar, now 16 Mar`,
    "Run of Munich malt, lot A: was to be steeped 3 May, now not planned",
    expect.stringMatching(new RegExp(`^${beer}: was to be brewed .*, now not made$`)),
  ]);
  expect(drawParts(partsOf(demo, after)).oldDays).toEqual({ runs: [], brews: [] });
});
