/** Every farm's next season: sound, with exactly what lay there, and fit to be planned. */
import { beforeAll, describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { bookAt } from "../../../core/book/book.ts";
import { dateOf, dayNumber, isoDate } from "../../../core/calendar.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { nextSeason } from "../../../core/next/next-season.ts";
import { makeNaivePlan, makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { checkSeason } from "../../../core/season/check.ts";
import { type Season, seasonSchema } from "../../../core/season/season.ts";
import { stateAt } from "../../../core/year/state-at.ts";
import { demoSeason } from "../../_support/demo.ts";

const naive = (season: Season) => makeNaivePlan(season, { seed: 1, iterations: 0, highs: null });
/** Made farms with their plans: tests only read them. */
const farms = new Map<number, Promise<readonly [Season, Plan]>>();

function farm(seed: number): Promise<readonly [Season, Plan]> {
  const known = farms.get(seed);
  if (known) return known;
  const season = makeSeason("small", seed);
  const made = naive(season).then((plan) => [season, plan] as const);
  farms.set(seed, made);
  return made;
}

const NAMED = { id: "the-next", name: "The next season" };

/** The day after as-of, two in the middle, one shortly before the end and one after it. */
function daysOf(season: Season): string[] {
  const today = dayNumber(dateOf(season.asOf)), end = dayNumber(season.horizonEnd);
  const part = (share: number) => today + Math.round((end - today) * share);
  return [today + 1, part(0.4), part(0.7), end - 20, end + 30].map(isoDate);
}

const errorsOf = (season: Season) =>
  checkSeason(season, { asOf: season.asOf }).findings.filter((one) => one.level === "error")
    .map((one) => `${one.code} ${one.field} ${one.value}`);

/** The season of a day, after asking of it all that has to hold of every next season. */
function sound(season: Season, plan: Plan | null, date: string): Season {
  const { season: next, notes } = nextSeason(season, plan, date, NAMED);
  expect(seasonSchema.parse(next)).toEqual(next);
  expect([date, errorsOf(next)]).toEqual([date, []]);
  expect([next.id, next.name, next.fixedAsOf, next.positionAt]).toEqual([
    "the-next",
    "The next season",
    undefined,
    next.asOf,
  ]);
  expect(new Set(notes.map((one) => one.kind))).toContain("to enter");
  for (const { text } of notes) expect(text).toMatch(/^\S.*\.$/);
  // What lies there then is what the new season opens with.
  const state = stateAt(season, plan, next.positionAt);
  const weights = (rows: readonly { lotId: string; storeId: string; massG: number }[]) =>
    rows.map((one) => [one.lotId, one.storeId, one.massG]);
  expect(weights(next.opening.grain)).toEqual(weights(withoutTwins(state.grain)));
  expect(next.opening.malt.map((one) => [one.id, one.massG, one.home, one.madeOn])).toEqual(
    state.batches.map(({ batch, massG }) => [batch.id, massG, batch.home, isoDate(batch.madeDay)]),
  );
  expect(next.opening.tanks.map((one) => [one.tankId, one.volumeL, one.freeOn])).toEqual(
    state.tanks.map((one) => [one.tankId, one.volumeL, isoDate(one.freeDay)]),
  );
  // And it opens with nothing else: the state of its own first minute is the same.
  const own = stateAt(next, null, next.positionAt);
  expect(weights(own.grain)).toEqual(weights(next.opening.grain));
  expect(own.batches.map(({ batch, massG }) => [batch.id, massG])).toEqual(
    next.opening.malt.map((one) => [one.id, one.massG]),
  );
  expect(own.vessels.map((one) => [one.vesselId, one.stage, one.run.id])).toEqual(
    state.vessels.map((one) => [one.vesselId, one.stage, one.run.id]),
  );
  return next;
}

/** One lot may not have the same weight twice in an opening position: a gram comes off. */
function withoutTwins<T extends { lotId: string; massG: number }>(rows: readonly T[]): T[] {
  return rows.map((row, i) => {
    const twin = rows.slice(0, i).some((other) => other.lotId === row.lotId && other.massG === row.massG);
    return twin ? { ...row, massG: row.massG - 1 } : row;
  });
}

describe("of the demo farm", () => {
  const season = demoSeason();
  let plan: Plan;
  beforeAll(async () => void (plan = await naive(season)));

  test("is sound on any day, and opens with what lay there", () => {
    for (const date of [...daysOf(season), "2027-07-21", "2027-09-01"]) sound(season, plan, date);
  });

  test("keeps the book values with their rows", () => {
    const next = sound(season, plan, "2027-09-01");
    expect(next.bookValues).toContain("/costs/moveLoss");
    const named = (of: Season, pointer: string) => {
      const [, list, row] = pointer.split("/");
      return list === "plantings"
        ? `${of.plantings[Number(row)]!.id} ${pointer.split("/").slice(3).join("/")}`
        : pointer;
    };
    const gone = season.plantings.filter((one) => !next.plantings.some((other) => other.id === one.id)).map((
      one,
    ) => one.id);
    expect(next.bookValues.map((one) => named(next, one))).toEqual(
      season.bookValues.map((one) => named(season, one)).filter((one) => !gone.includes(one.split(" ")[0]!)),
    );
    expect(gone.length).toBeGreaterThan(0);
  });
});

describe("of small made seasons", () => {
  const seeds = Array.from({ length: 20 }, (_, i) => i + 1);

  test.each(seeds)("seed %i: is sound on several days, and opens with what lay there", async (seed) => {
    const [season, plan] = await farm(seed);
    for (const date of daysOf(season)) sound(season, plan, date);
  });

  test.each(seeds)("seed %i: without a plan it opens with the book at as-of", async (seed) => {
    const [season] = await farm(seed);
    const { season: next } = nextSeason(season, null, dateOf(season.asOf), NAMED);
    expect([next.positionAt, errorsOf(next)]).toEqual([season.asOf, []]);
    const told = (of: Season) => {
      const { asOfDay, grain, batches, runsUnderWay } = bookAt(of, of.asOf);
      return {
        grain: [...grain].flatMap(([lotId, stores]) =>
          [...stores].flatMap(([storeId, massG]) => massG > 0 ? [`${lotId} ${storeId} ${massG}`] : [])
        ).sort(),
        // Malt held for a result has no days, and in the new season days that are over.
        malt: batches.map(({ id, massG, readyDay, lastDay }) =>
          `${id} ${massG} ${readyDay === Infinity || lastDay < asOfDay ? "never" : `${readyDay} ${lastDay}`}`
        ).sort(),
        runs: runsUnderWay,
      };
    };
    expect(told(next)).toEqual(told(season));
  });

  test.each([2, 8, 12])("seed %i: can be planned, and the plan is audited clean", async (seed) => {
    const [season, plan] = await farm(seed);
    const next = sound(season, plan, daysOf(season)[2]!);
    const outcome = await makePlan(next, { seed: 1, iterations: 200, highs: null });
    if (outcome.kind !== "planned") throw new Error(outcome.kind);
    expect(auditPlan(next, outcome.plan)).toEqual([]);
    expect(outcome.setAside).toEqual([]);
    expect(outcome.plan.brews.length).toBeGreaterThan(20);
  });

  test("has a next season in its turn, and no id comes twice", async () => {
    const [season, plan] = await farm(3);
    const second = sound(season, plan, daysOf(season)[2]!);
    const third =
      nextSeason(second, await naive(second), daysOf(second)[3]!, { id: "the-third", name: "Third" }).season;
    expect(errorsOf(third)).toEqual([]);
    const newest = third.brews.filter((brew) => brew.on > second.horizonEnd);
    expect(newest.length).toBeGreaterThan(20);
    expect(newest.filter((brew) => second.brews.some((other) => other.id === brew.id))).toEqual([]);
  });
});
