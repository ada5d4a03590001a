import { describe, expect, test } from "vitest";
import { changedRuns, unrestOf } from "../../../core/plan/changed-runs.ts";
import type { Plan, PlanRun } from "../../../core/plan/plan.ts";

/** A run that starts on a day of February 2027 in vessels of line 1, of a lot called a, unless said otherwise. */
function run(
  day: number,
  { lot = "a", line = 1, cleanG = 1000, malt = "pale", standing = "not booked" } = {},
) {
  return {
    ...{ id: `r${day}-${line}`, standing, maltId: malt, cleanG },
    draws: [{ lotId: lot, storeId: "bin", massG: cleanG }],
    vesselIds: { steep: "s", bed: `b${line}`, kiln: "k" },
    steepInAt: `2027-02-${String(day).padStart(2, "0")}T08:00`,
  } as unknown as PlanRun;
}

function told(before: PlanRun[], after: PlanRun[], asOf = "2027-01-01T00:00") {
  const changes = changedRuns({ runs: before } as Plan, { runs: after, asOf } as Plan);
  return [changes.moved.length, changes.added.length, changes.gone.length, unrestOf(changes)];
}

describe("changed runs", () => {
  test("are those with another start, vessel or load, not those with another name", () => {
    expect(told([run(1), run(5)], [run(1), { ...run(5), id: "other" }])).toEqual([0, 0, 0, 0]);
    expect(told([run(1), run(5)], [run(1), run(6)])).toEqual([1, 0, 0, 1]);
    expect(told([run(1)], [run(1, { line: 2 })])).toEqual([1, 0, 0, 1]);
  });

  test("have a load that differs by more than 5 %", () => {
    expect(told([run(1)], [run(1, { cleanG: 1050 })])).toEqual([0, 0, 0, 0]);
    expect(told([run(1)], [run(1, { cleanG: 1051 })])).toEqual([1, 0, 0, 1]);
    expect(told([run(1)], [run(1, { cleanG: 949 })])).toEqual([1, 0, 0, 1]);
  });

  test("are matched by lot, malt and order: one out of the middle leaves its neighbours alone", () => {
    expect(told([run(1), run(5), run(9)], [run(1), run(9)])).toEqual([0, 0, 1, 1]);
    expect(told([run(1), run(5), run(9)], [run(1), run(7), run(9)])).toEqual([1, 0, 0, 1]);
    expect(told([run(1)], [run(1, { lot: "b" })])).toEqual([0, 1, 1, 1]);
    expect(told([run(1)], [run(1, { malt: "dark" })])).toEqual([0, 1, 1, 1]);
  });

  test("keep to their own vessels where two lines start at once", () => {
    const both = [run(1, { line: 1 }), run(1, { line: 2 })];
    expect(told(both, [...both].reverse())).toEqual([0, 0, 0, 0]);
    expect(told([...both, run(5)], [both[1]!, run(5)])).toEqual([0, 0, 1, 1]);
  });

  test("start from as-of on and are not under way", () => {
    expect(told([run(1), run(9)], [run(9)], "2027-02-05T00:00")).toEqual([0, 0, 0, 0]);
    expect(told([run(9, { standing: "under way" })], [])).toEqual([0, 0, 0, 0]);
  });

  test("include a booking that was moved", () => {
    const booked = { ...run(5, { standing: "booked" }), id: "r1-1" };
    expect(told([run(1), run(9)], [booked, run(9)])).toEqual([1, 0, 0, 1]);
  });
});
