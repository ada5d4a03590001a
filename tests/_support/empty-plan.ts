import type { Plan } from "../../core/plan/plan.ts";
import { seasonHash } from "../../core/season/canonical.ts";
import type { Season } from "../../core/season/season.ts";

/** The plan in which nothing is done: right for a season in which nothing is asked. */
export async function emptyPlan(season: Season, iterations = 0): Promise<Plan> {
  return {
    format: "rickyard-plan",
    version: 1,
    seasonId: season.id,
    seasonHash: await seasonHash(season),
    revision: 0,
    asOf: season.asOf,
    seed: 1,
    iterations,
    program: "test",
    stoppedEarly: false,
    runs: [],
    drums: [],
    brews: [],
    unbrewed: [],
    maltDeliveries: [],
    unsold: [],
    orders: [],
    fills: [],
    leftOut: [],
    moves: [],
    feedLoads: [],
    seedTaken: [],
    grainDeliveries: [],
    cannotKeep: [],
    goals: {
      made: [0, 0, 0],
      asked: [0, 0, 0],
      promisesHeld: 0,
      tailMade: 0,
      moneyCents: 0,
      money: {
        runsCents: 0,
        ordersCents: 0,
        movesCents: 0,
        nightTurnsCents: 0,
        extraHoursCents: 0,
        feedCents: 0,
        endGrainCents: 0,
        salesCents: 0,
        reserveCents: 0,
        changedRunsCents: 0,
      },
    },
  };
}
