/** Which brews runs make, and which promises they keep, by whole numbers. */
import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { chooseBrews } from "../../../core/search/choose-brews.ts";
import { counted } from "../../../core/search/counted.ts";
import { finish, settledEffort } from "../../../core/search/finish.ts";
import type { Problem } from "../../../core/search/problem.ts";
import { weigh } from "../../../core/search/weights.ts";
import { loadHighs } from "../../_support/highs.ts";
import { plainStart } from "./_plain-start.ts";

const highs = await loadHighs();
const NOTHING = [-1, -1, -1, -1];

/** Brews of class 1, 2 and 3, then promises: the goals in order, before the tail and money. */
function goalsOf({ demands }: Problem, status: ArrayLike<number>): number[] {
  const made = [1, 2, 3].map((of) =>
    demands.filter((one) => one.class === of && status[one.index]! > 0).length
  );
  const kept = demands.filter((one) => one.kind === "brew" && one.class < 4 && status[one.index] === 2);
  return [...made, kept.length];
}

function isMore(one: readonly number[], other: readonly number[]): boolean {
  const at = one.findIndex((count, goal) => count !== other[goal]);
  return at >= 0 && one[at]! > other[at]!;
}

function start(size: "micro" | "small", seed: number) {
  const season = makeSeason(size, seed);
  const { problem, tanks, evaluator, candidate, refused } = plainStart(season);
  return { season, candidate, by: settledEffort({ problem, tanks, evaluator, refused, highs }) };
}

describe.each([1, 2, 3, 4, 6])("brews of a micro season (seed %i)", (seed) => {
  test("are the best of all that could be chosen, each tried by itself", () => {
    const { candidate, by } = start("micro", seed);
    const { problem, evaluator, tanks } = by;
    const { kept, evaluation } = counted(evaluator, candidate, by.effort.breadth);
    const input = { problem, evaluator, tanks, runs: kept.runs, day: kept.day };
    const dated = problem.demands.filter(({ index }) => kept.day[index]! >= 0);
    const holds = (status: Uint8Array) => {
      const how = { room: 1, tightDays: [], fixedLoads: false, whole: false, near: null, orders: null };
      const padded = new Set(problem.demands.keys());
      const weights = weigh(
        highs,
        { ...input, evaluation: { ...evaluation, status } },
        new Float64Array(problem.lots.length),
        { ...how, padded },
      );
      return weights !== null && weights.status.every((is, index) => is === status[index]);
    };
    let best: number[] = NOTHING;
    for (let code = 0; code < 3 ** dated.length; code++) {
      const status = new Uint8Array(problem.demands.length);
      dated.forEach(({ index }, place) => status[index] = Math.floor(code / 3 ** place) % 3);
      const goals = goalsOf(problem, status);
      if (isMore(goals, best) && holds(status)) best = goals;
    }
    const chosen = chooseBrews(by, candidate, NOTHING) ?? evaluation.status;
    expect(goalsOf(problem, chosen)).toEqual(best);
  });
});

describe("brews of small seasons", () => {
  const seasons = Array.from({ length: 30 }, (_, i) => start("small", i + 1));
  // Where stores are short, bags that are begun and grain that finds no bin decide, and these the choice does not see.
  const results = seasons.filter(({ season, by }) =>
    !by.evaluator.hurry.crowded && !season.id.includes("bins")
  ).map(({ season, candidate, by }) => {
    const plain = finish(by, candidate);
    const { made, promisesHeld } = plain.goals;
    const chosen = chooseBrews(by, candidate, [...made, promisesHeld]);
    return { season, by, plain, chosen, better: chosen && finish(by, candidate, chosen) };
  });

  test("are often better chosen than counted, and never chosen for less", () => {
    const more = results.filter(({ chosen }) => chosen);
    expect(more.length).toBeGreaterThan(2);
    for (const { by, plain, chosen } of more) {
      const beaten = [...plain.goals.made, plain.goals.promisesHeld];
      expect(isMore(goalsOf(by.problem, chosen!), beaten)).toBe(true);
    }
  });

  test("come out in whole grams as they were chosen, nearly always, and break no rule", () => {
    let kept = 0, all = 0;
    for (const { season, by, plain, chosen, better } of results) {
      if (!chosen || !better) continue;
      const plan = { ...better, format: "rickyard-plan", version: 1 } as const;
      const head = { seasonId: season.id, seasonHash: "", revision: 0, asOf: season.asOf, seed: 1 };
      const whole = { ...plan, ...head, iterations: 0, program: "", stoppedEarly: false };
      expect(auditPlan(season, whole)).toEqual([]);
      all++;
      const goals = [...better.goals.made, better.goals.promisesHeld];
      if (!isMore(goalsOf(by.problem, chosen), goals)) kept++;
      expect(isMore([...plain.goals.made, plain.goals.promisesHeld], goals)).toBe(false);
    }
    expect(kept).toBeGreaterThanOrEqual(all - 1);
  });

  test("are not chosen where nothing above what is to be beaten can be had", () => {
    const { candidate, by } = start("small", 1);
    const all = by.problem.demands.length;
    expect(chooseBrews(by, candidate, [all, all, all, all])).toBeNull();
  });
});
