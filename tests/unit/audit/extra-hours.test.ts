/** Extra windows that overlap: the plan pays the cheapest set that holds every hand-over outside the weekly windows, each once. */
import { expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { handPlan } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of, pay, retime } from "./_variant.ts";

type HandOver = "castToBed" | "kilnLoading";
type Extra = readonly [from: string, to: string, costCents: number, handOvers?: readonly HandOver[]];

const BOTH = ["castToBed", "kilnLoading"] as const;

/**
 * Whether the auditor agrees to a price of extra hours on Sunday 11 April. On that day r6 is put on the kiln at 08:00, and r5 and r4,
 * moved there for this test alone, are cast at 10:00 and 12:00.
 */
function agrees(cents: number, extra: readonly Extra[], turned = false): boolean {
  const season = handSeason(), plan = handPlan();
  season.roster.extra = extra.map(([from, to, costCents, handOvers = BOTH]) => ({
    on: "2027-04-11",
    from,
    to,
    costCents,
    handOvers: [...handOvers],
  }));
  for (const [id, hour] of [["r5", "10:00"], ["r4", "12:00"]] as const) {
    const days = ["09T08:00", `11T${hour}`, "15T08:00", "16T08:00"] as const;
    const [steepIn, cast, kiln, strip] = days.map((day) => `2027-04-${day}`);
    retime(of(plan.runs, id), steepIn!, cast!, kiln!, strip!);
  }
  if (turned) plan.runs.reverse();
  pay(plan, "extraHoursCents", cents);
  return !auditPlan(season, plan).some(({ thing }) => thing === "extraHoursCents");
}

test.each<[string, number, readonly Extra[]]>([
  ["one for all is cheaper than the cheapest for each", 3000, [
    ["07:00", "09:00", 1000],
    ["09:30", "10:30", 1100],
    ["11:30", "12:30", 1200],
    ["07:00", "13:00", 3000],
  ]],
  ["the cheapest for each is cheaper than one for all", 3300, [
    ["07:00", "13:00", 3400],
    ["11:30", "12:30", 1200],
    ["09:30", "10:30", 1100],
    ["07:00", "09:00", 1000],
  ]],
  ["a dearer window that two need is paid instead of a cheaper that one does", 2700, [
    ["07:00", "09:00", 1500],
    ["07:00", "10:00", 1600],
    ["10:00", "12:00", 1200],
    ["12:00", "12:00", 1150],
    ["08:00", "10:00", 2900],
  ]],
  ["a window serves only what it lists", 2500, [
    ["07:00", "13:00", 500, ["kilnLoading"]],
    ["07:00", "13:00", 2000, ["castToBed"]],
    ["07:00", "13:00", 2600],
  ]],
  ["windows for nothing cost nothing", 0, [["07:00", "10:00", 0], ["08:00", "12:00", 0]]],
  ["a hand-over that no window holds is priced by no window", 1000, [["07:00", "09:00", 1000]]],
])("%s", (_, cents, extra) => {
  for (const turned of [false, true]) {
    expect(agrees(cents, extra, turned)).toBe(true);
    expect(agrees(cents + 10, extra, turned)).toBe(false);
    expect(agrees(cents - 10, extra, turned)).toBe(false);
  }
});

test("a day of very many windows is judged in time", () => {
  const many = Array.from({ length: 300 }, (_, place): Extra => ["07:00", "13:00", 5000 + place]);
  expect(agrees(5000, many)).toBe(true);
});

test.each([
  ["beside a weekly window", "2027-01-26"],
  ["of a hand-over gone by", "2027-01-16"],
])("a window %s is not paid", (_, on) => {
  const season = handSeason();
  season.roster.extra.push({
    on,
    from: "07:00",
    to: "10:00",
    handOvers: ["steepIn", "castToBed"],
    costCents: 999,
  });
  expect(auditPlan(season, handPlan())).toEqual([]);
});
