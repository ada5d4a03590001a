import { isoDate } from "../../../core/calendar.ts";
import type { Plan, PlanBrew, PlanRun } from "../../../core/plan/plan.ts";
import type { Chosen } from "./chosen.ts";
import type { Ground } from "./ground.ts";
import { wholeGrams } from "./whole-grams.ts";

/** What a brew is made of, in whole grams, and its home-grown share. */
export interface Grist {
  readonly grist: PlanBrew["grist"];
  readonly homeShare: number;
}

/** A batch of the plan: its id, its weight, and whether it is home-grown. */
interface Lying {
  readonly batchId: string;
  readonly massG: number;
  readonly home: boolean;
}

/** Whole grams of every use, batch by batch in order of days, so that a batch that is used up takes no bag place. */
export function gristGrams(
  ground: Ground,
  chosen: Chosen,
  runs: readonly PlanRun[],
  orders: Plan["orders"],
): ReadonlyMap<Chosen["brews"][number], Grist> {
  const batches = batchesOf(ground, chosen, runs, orders);
  const uses = chosen.brews.flatMap((made) => made.uses.map((use) => ({ made, use })))
    .sort((a, b) => a.made.day - b.made.day);
  const grams = new Map<unknown, number>();
  for (const [group, { massG }] of batches) {
    const mine = uses.filter(({ use }) => use.group === group).map(({ use }) => use);
    const rounded = wholeGrams(mine.map((use) => use.massKg), massG);
    mine.forEach((use, place) => grams.set(use, rounded[place]!));
  }
  return new Map(chosen.brews.map((made) => {
    const weighed = made.uses.map((use) => ({
      lineId: use.lineId,
      batch: batches.get(use.group)!,
      massG: grams.get(use)!,
    }));
    const sum = (home: boolean) =>
      weighed.filter(({ batch }) => batch.home === home).reduce((all, { massG }) => all + massG, 0);
    const promise = ground.ctx.beers.get(made.brew.beerId)!.homeSharePromise;
    // A promise kept to the last gram must still be kept in whole grams.
    for (const one of weighed) {
      if (!made.held || one.batch.home || sum(true) >= promise * (sum(true) + sum(false)) - 1e-6) continue;
      one.massG -= 1;
    }
    const grist = weighed.filter(({ massG }) => massG > 0).map(({ lineId, batch, massG }) => ({
      lineId,
      from: { kind: "batch" as const, batchId: batch.batchId },
      massG,
    }));
    const allG = sum(true) + sum(false);
    return [made, { grist, homeShare: allG > 0 ? sum(true) / allG : 0 }];
  }));
}

function batchesOf(
  { season, ctx }: Ground,
  chosen: Chosen,
  runs: readonly PlanRun[],
  orders: Plan["orders"],
): Map<string, Lying> {
  return new Map<string, Lying>([
    ...season.opening.malt.map(({ id, massG, home }) => [id, { batchId: id, massG, home }] as const),
    ...chosen.runs.map(({ option }, place) => {
      const { draws, outputs } = runs[place]!;
      const home = draws.every(({ lotId }) => ctx.lots.get(lotId)!.origin === "own");
      return [`start ${option.startDay}`, {
        batchId: outputs[0]!.batchId,
        massG: outputs[0]!.massG,
        home,
      }] as const;
    }),
    ...chosen.orders.map(({ offer, day }, place) => {
      const { batchId, massG } = orders[place]!;
      return [`${offer.id} ${isoDate(day)}`, { batchId, massG, home: false }] as const;
    }),
  ]);
}
