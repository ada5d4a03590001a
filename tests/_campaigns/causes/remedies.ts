import { parseArgs } from "node:util";
import { firmUp, type Priced, priceRemedies, ranked } from "../../../core/explain/remedies.ts";
import { planningOnce, Trials } from "../../../core/explain/resolve.ts";
import { lessOf, worthOf } from "../../../core/explain/worth.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { LIMITS, type SeasonSize } from "../../../core/generate/sizes.ts";
import { compareGoals } from "../../../core/plan/compare.ts";
import { DEFAULT_ITERATIONS, makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { loadHighs } from "../../_support/highs.ts";
import { seasonCauses } from "./season-causes.ts";

/** Best remedies of each season that are planned whole. */
const BEST = 3;
/** A stated effect is right within this part of it, or within one brew, one promise, and 0.5 % of the money. */
const WITHIN = 0.05;
const NOISE = 0.005;
/** Neither the plan's seed nor the one with which the server plans in full. */
const SEED = 3;

/**
 * Puts the best remedies of made seasons in place, plans those seasons in full, and compares what that brings with what the server
 * states: `deno run -A tests/_campaigns/causes/remedies.ts [--count N] [--size SIZE] [--from SEED]`.
 */
async function whole(season: Season, from: Plan): Promise<Plan> {
  const outcome = await makePlan(season, { seed: SEED, iterations: DEFAULT_ITERATIONS, highs, from });
  if (outcome.kind !== "planned") return from;
  return compareGoals(outcome.plan.goals, from.goals) < 0 ? outcome.plan : from;
}

/** Whether a stated gain is the one that the long search sees, by count and by money. */
function agrees(stated: Priced["gain"], seen: Priced["gain"], plan: Plan): [counts: boolean, money: boolean] {
  const near = (a: number, b: number, noise: number) =>
    Math.abs(a - b) <= Math.max(noise, WITHIN * Math.abs(b));
  return [
    near(stated.brews, seen.brews, 1) && near(stated.promises, seen.promises, 1),
    near(stated.moneyCents, seen.moneyCents, NOISE * Math.abs(plan.goals.moneyCents)),
  ];
}

const { values } = parseArgs({
  args: Deno.args,
  options: {
    count: { type: "string", default: "8" },
    size: { type: "string", default: "small" },
    from: { type: "string", default: "1" },
  },
});
const highs = await loadHighs();
let counted = 0, byCount = 0, byMoney = 0;
for (let i = 0; i < Number(values.count); i++) {
  const seed = Number(values.from) + i, limit = LIMITS[i % LIMITS.length]!;
  const season = makeSeason(values.size as SeasonSize, seed, limit);
  const explained = await seasonCauses(highs, season);
  if (explained === null) throw new Error(`${seed} ${limit} has no plan`);
  const { plan, shortfalls, causes } = explained;
  const resolve = planningOnce(explained.resolve, season);
  const found: Priced[] = [];
  for await (const one of priceRemedies(season, plan, shortfalls, causes, resolve)) found.push(one);
  const trials = await Trials.open(season, plan, resolve);
  for await (const one of firmUp(trials, found)) found[found.findIndex(({ id }) => id === one.id)] = one;
  const reference = await whole(season, plan);
  for (const one of ranked(found).filter((each) => !each.isNoise && each.trial !== null).slice(0, BEST)) {
    const eased = one.trial!.season;
    const seen = lessOf(
      worthOf(eased, await whole(eased, reference)),
      worthOf(season, reference),
    );
    const [counts, money] = agrees(one.gain, seen, reference);
    counted++;
    byCount += Number(counts);
    byMoney += Number(counts && money);
    const told = (gain: Priced["gain"]) =>
      `${gain.brews} brews, ${gain.promises} promises, ${Math.round(gain.moneyCents / 100)}`;
    console.log(
      `${counts ? money ? "right   " : "by count" : "WRONG   "} ${season.id}: ${one.words}: stated ${
        told(one.gain)
      }; planned whole ${told(seen)}`,
    );
  }
}
console.log(
  `stated effect within 5 % or the noise: by brews and promises ${byCount}, by money too ${byMoney}, of ${counted}`,
);
