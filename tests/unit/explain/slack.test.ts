import { describe, expect, test } from "vitest";
import { addDays } from "../../../core/calendar.ts";
import { heldPlan } from "../../../core/explain/held-plan.ts";
import { slackOf, tightestFirst } from "../../../core/explain/slack.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makePlan } from "../../../core/plan/make.ts";
import { type SeasonFile, seasonSchema } from "../../../core/season/season.ts";
import { bareSeason } from "../../_support/bare-season.ts";

/** A Monday, in a zone without clock changes. */
const TODAY = "2027-01-18";
const day = (after: number) => addDays(TODAY, after);
const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];
const stage = (hours: number) => ({ least: hours, usual: hours, greatest: hours });

/** One malt of 48 + 96 + 24 hours and ten days of rest, steeped on Mondays; 1.6 t of it are sold on day 63: two full loads. */
const farm: SeasonFile = {
  ...bareSeason,
  zone: "UTC",
  positionAt: `${TODAY}T07:00`,
  asOf: `${TODAY}T07:00`,
  fixedAsOf: `${TODAY}T07:00`,
  horizonEnd: day(200),
  lots: [{
    id: "lot",
    letter: "A",
    name: "The lot",
    crop: "barley",
    varietyClass: "malting",
    harvestYear: 2026,
    origin: "own",
    formedOn: day(-150),
    moistureWb: 0.125,
    testWeightKgPerHl: 60,
    analyses: [{ id: "test", sampledOn: day(-9), resultOn: day(-5), germinativeEnergy: 0.97 }],
    use: "malting",
  }],
  stores: [{
    kind: "bin",
    id: "bin",
    name: "Bin",
    shape: { kind: "volume", volumeL: 20_000 },
    monthTempC: Array.from({ length: 12 }, () => 8),
  }],
  vessels: (["steep", "bed", "kiln"] as const).map((one) => ({
    id: one,
    name: one,
    stages: [one],
    loadLimits: [{ crop: "barley" as const, leastG: 900_000, greatestG: 1_000_000 }],
    cleaningHours: 4,
  })),
  roster: {
    weekly: [
      { weekdays: [1], from: "07:00", to: "09:00", handOvers: ["steepIn"] },
      { weekdays: EVERY_DAY, from: "07:00", to: "09:00", handOvers: ["castToBed", "kilnLoading", "strip"] },
    ],
    heldDays: 0,
  },
  maltTypes: [{
    id: "pale",
    name: "Pale",
    made: {
      from: "grain",
      crops: ["barley"],
      acceptance: {},
      profiles: [{ id: "week", name: "A week", steep: stage(48), bed: stage(96), kiln: stage(24) }],
      screeningLoss: 0,
      steepLossDm: 0.1,
      respirationLossDm: 0.05,
      rootletLossDm: 0.05,
      runCents: 0,
    },
    maltMoistureWb: 0.125,
    extractCoarseDb: 0.8,
    restDays: 10,
    shelfLifeDays: 365,
  }],
  maltStore: { places: 8, placeG: 1_000_000 },
  contracts: [{
    kind: "sell-malt",
    id: "sale",
    party: "A made customer",
    maltId: "pale",
    massG: 1_600_000,
    from: day(55),
    to: day(63),
    perTonneCents: 100_000,
    class: 1,
  }],
  opening: { grain: [{ lotId: "lot", storeId: "bin", massG: 10_000_000 }] },
};

/** The slack of the two runs by hand: malt of a run steeped on day 42 is ready on day 59, of one on day 49 too late. */
async function slackWith(changes: Partial<SeasonFile>) {
  const season = seasonSchema.parse({ ...farm, ...changes });
  const outcome = await makePlan(season, { seed: 1, iterations: 0, highs: null });
  if (outcome.kind !== "planned") throw new Error("not planned");
  const { plan } = outcome;
  const starts = new Map(plan.runs.map((run) => [run.id, run.steepInAt.slice(0, 10)]));
  const slack = slackOf(season, plan);
  return { plan, slack, rows: slack.map((one) => ({ ...one, on: starts.get(one.runId)! })) };
}

describe("how far a run may slip, counted by hand", () => {
  test("to the run behind it; the last one to the last Monday whose malt is ready in time", async () => {
    const { rows, plan, slack } = await slackWith({});
    expect(rows.map((one) => [one.on, one.maySlipDays, one.stops.kind])).toEqual([
      [day(0), 0, "vessel"],
      [day(7), 35, "brew"],
    ]);
    expect(rows[0]?.stops).toMatchObject({ id: "steep", words: "the steep is wanted by the run of 25 Jan" });
    expect(rows[1]?.stops.id).toBe("sale");
    expect(tightestFirst(plan, slack).map((one) => one.runId)).toEqual([rows[1]?.runId, rows[0]?.runId]);
  });

  test("to its lot's last day", async () => {
    const lots = farm.lots!.map((lot) => ({ ...lot, useBy: { on: day(30), reason: "sprouted" } }));
    const { rows } = await slackWith({ lots });
    expect(rows[1]).toMatchObject({ on: day(7), maySlipDays: 21, stops: { kind: "lot", id: "lot" } });
  });

  test("not at all where nobody is there to start it later", async () => {
    const closed = [{ from: day(8), to: day(300), handOvers: ["steepIn" as const], reason: "away" }];
    const { rows } = await slackWith({ roster: { ...farm.roster, closed } });
    expect(rows[1]).toMatchObject({ on: day(7), maySlipDays: 0, stops: { kind: "hands" } });
  });
});

test("a plan read back has every free run, at its own load, and the search makes the same of it", async () => {
  const season = makeSeason("small", 6, "none");
  const outcome = await makePlan(season, { seed: 1, iterations: 400, highs: null });
  if (outcome.kind !== "planned") throw new Error("not planned");
  const held = heldPlan(season, outcome.plan);
  const free = outcome.plan.runs.filter((run) => run.standing === "not booked");
  expect(held.free.map((one) => one.run.id).sort()).toEqual(free.map((run) => run.id).sort());
  const { score, loads } = held.evaluator.evaluate(held.candidate, 1);
  expect([score.made.slice(0, 3), score.promises]).toEqual([
    outcome.plan.goals.made,
    outcome.plan.goals.promisesHeld,
  ]);
  for (const { run, choice } of held.free) {
    const at = held.candidate.runs.indexOf(choice);
    const drawnG = run.draws.reduce((sum, draw) => sum + draw.massG, 0);
    expect(Math.abs(loads.drawG[at]! + loads.draw2G[at]! - drawnG)).toBeLessThan(0.02 * drawnG + 1000);
  }
});

test("slack is told of runs up to the last day shown only: by those after it nobody acts", async () => {
  const made = makeSeason("small", 1);
  const outcome = await makePlan(made, { seed: 1, iterations: 0, highs: null });
  if (outcome.kind !== "planned") throw new Error("not planned");
  // The same plan in a season that is shown for eight weeks less.
  const season = { ...made, horizonEnd: addDays(made.horizonEnd, -56) };
  const free = outcome.plan.runs.filter((run) => run.standing === "not booked");
  const shown = free.filter((run) => run.steepInAt.slice(0, 10) <= season.horizonEnd).map((run) => run.id);
  expect(shown.length).toBeLessThan(free.length);
  expect(slackOf(season, outcome.plan).map((one) => one.runId).sort()).toEqual(shown.sort());
});
