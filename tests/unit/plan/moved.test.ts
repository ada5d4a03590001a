import { describe, expect, test } from "vitest";
import { movedBetween } from "../../../core/plan/moved.ts";
import type { Plan, PlanRun } from "../../../core/plan/plan.ts";
import { movedWords } from "../../../core/year/moved-words.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

const demo = demoSeason();
const [malt] = demo.maltTypes;
const [brew, other] = demo.brews.filter((one) => one.on > "2027-02-01");

function run(id: string, day: string, more: Partial<PlanRun> = {}): PlanRun {
  return {
    ...{
      id,
      standing: "not booked",
      maltId: malt!.id,
      profileId: "p",
      vesselIds: { steep: "s", bed: "b", kiln: "k" },
    },
    draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
    ...{ steepInAt: `${day}T08:00`, castAt: `${day}T09:00`, kilnAt: `${day}T10:00`, stripAt: `${day}T11:00` },
    ...{ screeningsG: 0, cleanG: 1_000_000, culmsG: 0, outputs: [] },
    ...more,
  };
}

const made = (id: string, on: string) => ({
  ...{
    id,
    beerId: "ale",
    standing: "not booked" as const,
    on,
    tanks: [],
    grist: [],
    homeShare: 1,
    promiseHeld: true,
  },
});

async function plan(more: Partial<Plan>): Promise<Plan> {
  return { ...await emptyPlan(demo), ...more };
}

async function told(before: Partial<Plan>, after: Partial<Plan>): Promise<string[]> {
  return movedWords(demo, movedBetween(await plan(before), await plan(after)));
}

describe("what moved between two plans", () => {
  test("is nothing when runs only have other names", async () => {
    expect(await told({ runs: [run("r1", "2027-02-01")] }, { runs: [run("r9", "2027-02-01")] })).toEqual([
      "Nothing moved.",
    ]);
  });

  test("names one run that moved, and counts more", async () => {
    const before = [run("r1", "2027-02-01"), run("r2", "2027-02-08")];
    const one = [run("r1", "2027-02-02"), run("r2", "2027-02-08")];
    expect((await told({ runs: before }, { runs: one }))[0]).toMatch(
      /^1 run of .* malt moved from 1 Feb to 2 Feb\.$/,
    );
    const both = [run("r1", "2027-02-02"), run("r2", "2027-02-09"), run("r3", "2027-02-15")];
    expect(await told({ runs: before }, { runs: both })).toEqual(["2 runs moved and 1 run more."]);
    expect(await told({ runs: both }, { runs: [both[1]!] })).toEqual(["2 runs less."]);
  });

  test("does not count a load that differs by little, nor what is past or under way", async () => {
    const before = [
      run("r1", "2027-02-01"),
      run("r2", "2026-12-01"),
      run("r3", "2027-03-01", { standing: "under way" }),
    ];
    expect(await told({ runs: before }, { runs: [run("r1", "2027-02-01", { cleanG: 1_040_000 })] })).toEqual([
      "Nothing moved.",
    ]);
    expect(await told({ runs: before }, { runs: [run("r1", "2027-02-01", { cleanG: 1_060_000 })] })).toEqual([
      "1 run moved.",
    ]);
  });

  test("names brews that can be made now and those that no longer can", async () => {
    const [a, b] = [made(brew!.id, brew!.on), made(other!.id, other!.on)];
    const [gone, came] = [
      await told({ brews: [a, b] }, { brews: [b] }),
      await told({ brews: [b] }, { brews: [a, b] }),
    ];
    expect(gone[0]).toMatch(/ of .* can no longer be made\.$/);
    expect(came[0]).toBe(gone[0]!.replace("can no longer be made", "can be made now"));
    expect(await told({ brews: [a, { ...b, on: "2027-01-04" }] }, { brews: [a] })).toEqual([
      "Nothing moved.",
    ]);
    expect(await told({ brews: [a] }, { brews: [{ ...a, on: "2027-03-09" }] })).toEqual([
      "1 brew on another day.",
    ]);
  });

  test("says what it does to the money", async () => {
    const { goals } = await emptyPlan(demo);
    expect(await told({}, { goals: { ...goals, moneyCents: goals.moneyCents + 12_345 } })).toEqual([
      "Nothing moved; the year costs $123 more.",
    ]);
  });
});
