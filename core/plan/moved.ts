import { changedRuns, type RunChanges } from "./changed-runs.ts";
import type { Plan } from "./plan.ts";

/** What a plan does otherwise than the one before it, from its as-of on. */
export interface Moved {
  readonly runs: RunChanges;
  /** Ids of brews inside the horizon or its tail. */
  readonly brews: {
    readonly madeNow: readonly string[];
    readonly noLonger: readonly string[];
    readonly otherDay: readonly string[];
  };
  /** Feed more than before, grams. */
  readonly feedG: number;
  /** Home-share promises more than before. */
  readonly promises: number;
  /** What it costs more than before, cents; less is better. */
  readonly costCents: number;
}

/** Compares two plans of one season, or of a season before and after an edit. */
export function movedBetween(before: Plan, after: Plan): Moved {
  const made = (plan: Plan) => new Map(plan.brews.map((one) => [one.id, one.on]));
  const [was, is] = [made(before), made(after)];
  const feed = (plan: Plan) =>
    plan.feedLoads.filter((one) => one.on >= after.asOf.slice(0, 10))
      .flatMap((one) => one.items).reduce((sum, one) => sum + one.massG, 0);
  const today = after.asOf.slice(0, 10);
  return {
    runs: changedRuns(before, after),
    brews: {
      madeNow: [...is.keys()].filter((id) => !was.has(id)),
      noLonger: [...was].filter(([id, on]) => !is.has(id) && on >= today).map(([id]) => id),
      otherDay: [...is].filter(([id, on]) => was.has(id) && was.get(id) !== on).map(([id]) => id),
    },
    feedG: feed(after) - feed(before),
    promises: after.goals.promisesHeld - before.goals.promisesHeld,
    costCents: costsOf(after) - costsOf(before),
  };
}

/** Money without the stated price of changes: each plan counts those against another one. */
function costsOf({ goals }: Plan): number {
  return goals.moneyCents - goals.money.changedRunsCents;
}

/** True when nothing that anybody does has changed. */
export function nothingMoved({ runs, brews, feedG, promises }: Moved): boolean {
  const lists = [runs.moved, runs.added, runs.gone, brews.madeNow, brews.noLonger, brews.otherDay];
  return lists.every((list) => list.length === 0) && feedG === 0 && promises === 0;
}
