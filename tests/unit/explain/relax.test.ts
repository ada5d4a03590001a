import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { dayNumber } from "../../../core/calendar.ts";
import * as ease from "../../../core/explain/ease.ts";
import { LIMITS } from "../../../core/explain/limits.ts";
import { lifted, liftedAll } from "../../../core/explain/relax.ts";
import { weekendsAhead } from "../../../core/explain/remedy-days.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makePlan } from "../../../core/plan/make.ts";
import { problemOf } from "../../../core/search/problem.ts";
import { checkSeason } from "../../../core/season/check.ts";
import type { Season } from "../../../core/season/season.ts";
import { seasonHash } from "../../../core/season/canonical.ts";
import { demoSeason } from "../../_support/demo.ts";

const demo = demoSeason();
const errorsOf = (season: Season) =>
  checkSeason(season).findings.filter((one) => one.level === "error").map((one) => one.message);

describe("an eased season may be planned", () => {
  const made = [makeSeason("small", 3, "bed"), makeSeason("typical", 2, "grain"), makeSeason("micro", 4)];
  test.each([demo, ...made])("$id with each limit lifted, and with all of them", (season) => {
    for (const limit of LIMITS) expect([limit, errorsOf(lifted(season, limit))]).toEqual([limit, []]);
    expect(errorsOf(liftedAll(season, LIMITS))).toEqual([]);
  });

  test("every step of easing the demo", () => {
    const planting = demo.plantings.find((one) => one.state === "planned")!;
    const some = new Set(demo.brews.slice(90, 95).map((brew) => brew.id));
    const steps: (Season | null)[] = [
      ease.withExtraDays(demo, weekendsAhead(demo).slice(0, 4), 12_000),
      ease.withBiggerLoads(demo, 0.25),
      ease.withBin(demo),
      ease.withBagPlaces(demo, 2),
      ease.withArea(demo, planting.id, 4000),
      ease.withBoughtGrain(demo, "barley", 2_000_000, "2027-02-08"),
      ease.withSoonerMalt(demo, 7),
      ease.withWiderWindows(demo, some, 14),
      ease.withoutBrews(demo, some),
      ease.withRunInWeek(demo, dayNumber("2027-02-01")),
    ];
    for (const step of steps) expect(step === null ? ["none"] : errorsOf(step)).toEqual([]);
  });
});

test("a plan holds in a season with a limit taken away", async () => {
  const season = makeSeason("small", 2, "hands");
  const outcome = await makePlan(season, { seed: 1, iterations: 0, highs: null });
  if (outcome.kind !== "planned") throw new Error("not planned");
  for (const limit of ["steep", "bed", "kiln", "tanks", "store", "bins", "hands"] as const) {
    const eased = lifted(season, limit);
    const plan = { ...outcome.plan, seasonHash: await seasonHash(eased) };
    expect([limit, auditPlan(eased, plan)]).toEqual([limit, []]);
  }
});

test("one run more in a week: a line that can be started in that week and in no other", () => {
  const week = dayNumber("2027-03-01");
  const eased = ease.withRunInWeek(demo, week);
  const { slots, season } = problemOf(eased, demo.asOf);
  const own = slots.filter((slot) => season.vessels[slot.vessels[1]]!.line === "one run more");
  const days = own.map((slot) => slot.steepDay);
  expect(own.length).toBeGreaterThan(0);
  expect([Math.min(...days) >= week, Math.max(...days) <= week + 6]).toEqual([true, true]);
  // The cleaning after it is longer than the line stays open, so that no second load follows.
  const bed = season.vessels[own[0]!.vessels[1]]!;
  expect(bed.cleaningHours).toBeGreaterThan(21 * 24);
});
