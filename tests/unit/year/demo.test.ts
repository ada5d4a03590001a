import { cpuUsage } from "node:process";
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { dayNumber, isoDate } from "../../../core/calendar.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { summarise } from "../../../core/plan/summary.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { seasonSchema } from "../../../core/season/season.ts";
import { drawnFlow, drawnShortfalls, drawnYear } from "../../_support/drawn-year.ts";
import { flowResiduals } from "../../_support/flow-residuals.ts";
import { reopenAt } from "../../../core/year/reopen.ts";
import { sentenceText, yearSentence } from "../../../core/year/sentence.ts";
import { traceOf } from "../../../core/year/trace.ts";

const season = seasonSchema.parse(
  JSON.parse(readFileSync(new URL("../../../data-demo/tern-and-furrow.json", import.meta.url), "utf8")),
);
const day = dayNumber;
let plan: Plan;

beforeAll(async () => {
  // A short search without exact weights is plan enough to be drawn.
  const outcome = await makePlan(season, { seed: 1, iterations: 400, highs: null });
  if (outcome.kind === "cannot") throw new Error(outcome.findings.map((one) => one.message).join("\n"));
  plan = outcome.plan;
});

describe("the demo farm's year", () => {
  test("shows the bed as the limit from January to May", () => {
    const full = drawnYear(season, plan).malthouse.vessels.flatMap((vessel) =>
      vessel.full.map((one) => ({ ...one, id: vessel.id }))
    );
    const spring = full.filter((one) => one.from <= day("2027-01-31") && one.to >= day("2027-05-01"));
    expect(spring.map((one) => one.id)).toEqual(["bed"]);
  });

  test("lets the failed lot reach feed and no brew", () => {
    const nodes = [...traceOf(drawnYear(season, plan), "lot:lot-c").nodes];
    expect(nodes.filter((id) => /^(run|batch|brew):/.test(id))).toEqual([]);
    expect(nodes.some((id) => id.startsWith("feed:"))).toBe(true);
  });

  test("steeps no lot asleep or past its date", () => {
    const year = drawnYear(season, plan);
    const drawn = year.stores.flatMap((row) =>
      row.draws.filter((one) => one.kind === "run" && one.standing === "not booked").map((one) => {
        const stay = row.stays.find((other) => other.lotId === one.lotId && other.from < one.day)!;
        return stay.stretches.find((stretch) => stretch.from <= one.day && one.day <= stretch.to)?.state ??
          "ready";
      })
    );
    expect(drawn.length).toBeGreaterThan(20);
    expect(new Set(drawn)).toEqual(new Set(["ready"]));
  });

  test("says what has to make room before the new spring barley, and when", () => {
    const notes = drawnYear(season, plan).stores.flatMap((row) => row.mustLeave);
    expect(notes.length).toBeGreaterThan(0);
    for (const one of notes) {
      expect(one.words.go).toContain(` must leave ${one.storeName.toLowerCase()} by `);
      expect([one.words.go, one.onDay <= one.byDay, one.byDay <= one.nextDay]).toEqual([
        one.words.go,
        true,
        true,
      ]);
    }
  });

  test("reports September's tank clash with the beer that causes it", () => {
    const clashes = drawnYear(season, plan).tanks.clashes.filter((one) =>
      isoDate(one.from).startsWith("2027-09")
    );
    expect(clashes).toHaveLength(1);
    expect(clashes[0]!.text).toMatch(/^11 tanks of 9 are asked for, Fresh Hop among them/);
  });

  test("closes in dry matter to a thousandth at every lot, malt and grist", () => {
    const residuals = flowResiduals(drawnFlow(season, plan));
    expect(residuals.length).toBeGreaterThan(15);
    expect(residuals.filter((one) => Math.abs(one.residualG) > one.inG / 1000)).toEqual([]);
  });

  test("is told in one sentence, and every shortfall names a first cause", () => {
    expect(sentenceText(yearSentence(drawnYear(season, plan)))).toMatch(
      /^Home-grown grain makes \d\d % of the malt for .*brews in 2027; home rye malt runs short .*; the bed is full until \d+ \w+ \d{4}/,
    );
    const found = drawnShortfalls(season, plan);
    expect(found.length).toBeGreaterThan(0);
    for (const one of found) expect(one.sentence).toMatch(/First cause: .+\.$/);
    expect(found.some((one) => one.cause === "bed full")).toBe(true);
    expect(summarise(season, plan)).toContain("Money, USD");
  });

  test("reopens on any day as a season without errors", () => {
    for (const date of ["2027-01-19", "2027-03-03", "2027-07-21", "2027-08-13", "2027-12-01"]) {
      const later = reopenAt(season, plan, date);
      const errors = checkSeason(later, { asOf: later.asOf }).findings.filter((one) => one.level === "error");
      expect([date, errors]).toEqual([date, []]);
    }
  });

  test("is replayed in the time of a few audits of the plan, some 50 ms", () => {
    // The fastest of several, and a ratio, because other work on the machine is neither's.
    const fastest = (work: () => void) =>
      Math.min(...Array.from({ length: 8 }, () => {
        const start = cpuUsage();
        work();
        const { user, system } = cpuUsage(start);
        return user + system;
      }));
    expect(fastest(() => drawnYear(season, plan)) / fastest(() => auditPlan(season, plan))).toBeLessThan(10);
  });
});
