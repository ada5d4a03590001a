import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { Annealer } from "../../../core/search/anneal.ts";
import { steeringOf } from "../../../core/search/compare.ts";
import { finish } from "../../../core/search/finish.ts";
import { PROGRAM } from "../../../core/plan/program.ts";
import { seasonHash } from "../../../core/season/canonical.ts";
import { plainStart } from "./_plain-start.ts";

/**
 * Seasons with a malt store of so few places that a plan stands as the search counted it: with substitutes in grists (2, 11, 14), malt sold
 * under contract beside promises that hold by little (6), orders that outlast their shelf life (207), runs that get no grain (9) or
 * less than they count on (4), and malt that nobody offers, for which another is bought (23).
 */
const CROWDED = [[2, 14], [4, 12], [6, 16], [9, 12], [11, 8], [14, 8], [23, 12], [207, 17]] as const;

describe("in a crowded malt store the plan holds what the search counted", () => {
  test.each(CROWDED)("small season %i with %i places", async (seed, places) => {
    const season = makeSeason("small", seed);
    season.maltStore.places = places;
    const { problem, tanks, evaluator, candidate, refused, board } = plainStart(season);
    expect(evaluator.hurry.crowded).toBe(true);
    const steering = steeringOf(problem, evaluator.markets.map((market) => market.centsPerExtractG));
    const { candidate: found } = new Annealer(problem, evaluator, board, tanks, candidate, {
      ...{ seed: 1, iterations: 6000, steering, substitutes: true },
    }).run();
    const { score } = evaluator.evaluate(found, 3);
    expect(score.broken).toBe(0);
    const body = finish({ problem, evaluator, highs: null, tanks, refused }, found);
    const counted = [...score.made.slice(0, 3), score.promises];
    const held = [...body.goals.made, body.goals.promisesHeld];
    const at = held.findIndex((count, goal) => count !== counted[goal]);
    expect(at < 0 || held[at]! > counted[at]!, `${held} for ${counted}`).toBe(true);
    const head = { format: "rickyard-plan", version: 1, seasonId: season.id, revision: 0 } as const;
    const plan = {
      ...{ ...head, seasonHash: await seasonHash(season), asOf: season.asOf, seed: 1, iterations: 6000 },
      ...{ program: PROGRAM, stoppedEarly: false, ...body },
    };
    expect(auditPlan(season, plan)).toEqual([]);
  });
});
