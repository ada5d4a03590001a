import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";

/** What a plan is worth, or what one is worth more than another. */
export interface Worth {
  /** Brews and malt contracts made inside the horizon. */
  readonly brews: number;
  /** Home-share promises held. */
  readonly promises: number;
  /** Bought malt of the kinds that the farm makes itself, grams, in the brews inside the horizon; negative, so that more is better. */
  readonly homeMaltG: number;
  /** Grain left without a store, grams; negative, so that more is better. */
  readonly roomG: number;
  /** What the plan brings less what it costs, cents. */
  readonly moneyCents: number;
}

/** No more than the search's own noise: this part of the money. */
const NOISE_SHARE = 0.005;

/** Sums up a plan of a season. */
export function worthOf(season: Season, plan: Plan): Worth {
  const bought = boughtUses(season, plan);
  return {
    brews: sum(plan.goals.made),
    promises: plan.goals.promisesHeld,
    homeMaltG: -sum(bought.map((one) => one.massG)),
    roomG: -sum(plan.leftOut.map((one) => one.massG)),
    moneyCents: -plan.goals.moneyCents,
  };
}

/** Bought malt in place of malt that the farm makes itself, by the brews inside the horizon that take it. */
export function boughtUses(
  season: Season,
  plan: Plan,
): { readonly brewId: string; readonly maltId: string; readonly massG: number }[] {
  const home = homeBatches(season, plan);
  const ownMalts = new Set(
    season.maltTypes.filter((malt) => malt.made.from === "grain").map((one) => one.id),
  );
  const maltOfLine = new Map(
    season.beers.flatMap((beer) =>
      beer.grist.flatMap((line) =>
        line.ingredient.kind === "malt" && ownMalts.has(line.ingredient.maltId)
          ? [[`${beer.id} ${line.id}`, line.ingredient.maltId] as const]
          : []
      )
    ),
  );
  return plan.brews.filter((brew) => brew.on <= season.horizonEnd).flatMap((brew) =>
    brew.grist.flatMap((use) => {
      const maltId = maltOfLine.get(`${brew.beerId} ${use.lineId}`);
      const isHome = use.from.kind !== "batch" || home.has(use.from.batchId);
      return maltId === undefined || isHome ? [] : [{ brewId: brew.id, maltId, massG: use.massG }];
    })
  );
}

/** Batches of the farm's own making; whether their grain was its own too is the promises' affair. */
function homeBatches({ opening, records }: Season, plan: Plan): ReadonlySet<string> {
  return new Set([
    ...opening.malt.filter((batch) => batch.home).map((batch) => batch.id),
    ...[...records.runs, ...plan.runs].flatMap((run) => run.outputs.map((output) => output.batchId)),
    ...plan.drums.map((drum) => drum.batchId),
  ]);
}

/** Home malt of a usual brew that takes any, grams; 0 where none does. */
export function usualBrewG(season: Season, plan: Plan): number {
  const ownMalts = new Set(
    season.maltTypes.filter((malt) => malt.made.from === "grain").map((one) => one.id),
  );
  const lines = new Set(
    season.beers.flatMap((beer) =>
      beer.grist.filter((line) => line.ingredient.kind === "malt" && ownMalts.has(line.ingredient.maltId))
        .map((line) => `${beer.id} ${line.id}`)
    ),
  );
  const brews = plan.brews.map((brew) =>
    sum(brew.grist.filter((use) => lines.has(`${brew.beerId} ${use.lineId}`)).map((use) => use.massG))
  ).filter((massG) => massG > 0);
  return brews.length === 0 ? 0 : sum(brews) / brews.length;
}

/**
 * True when a gain cannot be told from nothing: no brew, no promise, not a brew's home malt, no room, and 0.5 % of the money. Money
 * is left out where grain was added, which is worth its feed price whatever becomes of it.
 */
export function isNoise(gain: Worth, reference: Plan, usualG: number, isGrain = false): boolean {
  const noMoney = isGrain || gain.moneyCents <= NOISE_SHARE * Math.abs(reference.goals.moneyCents);
  return noMoney && gain.brews <= 0 && gain.promises <= 0 && gain.homeMaltG < Math.max(1, usualG) &&
    gain.roomG <= 0;
}

/** What one gain has more than another. */
export function lessOf(a: Worth, b: Worth): Worth {
  return {
    brews: a.brews - b.brews,
    promises: a.promises - b.promises,
    homeMaltG: a.homeMaltG - b.homeMaltG,
    roomG: a.roomG - b.roomG,
    moneyCents: a.moneyCents - b.moneyCents,
  };
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((all, one) => all + one, 0);
}
