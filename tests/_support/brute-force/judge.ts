import type { Highs } from "highs";
import { auditPlan } from "../../../core/audit/audit.ts";
import { makePlan } from "../../../core/plan/make.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Season } from "../../../core/season/season.ts";
import { inWords } from "./chosen.ts";
import { doubts } from "./doubts.ts";
import { type Ground, groundOf } from "./ground.ts";
import { bestOfMixtures } from "./mixtures.ts";
import { type Best, bestPlan, scoreOf } from "./oracle.ts";
import { goTogether, type RunOption, runOptions } from "./run-options.ts";

/** More sets of runs than this are left to HiGHS, which is exact too but finds the set by itself; every set tried costs some 20 ms. */
const MOST_SETS = 60;
/** Whole grams, packs of grams and rounded cents may set the planner and the oracle so far apart. */
const LEAST_CENTS = 50;
const SHARE_OF_MONEY = 0.0005;

export interface Verdict {
  readonly word: "same" | "planner worse" | "planner better" | "undecided" | "skipped";
  readonly line: string;
  /** What the auditor says of the plan, and of the search's own where it was set aside. */
  readonly breaches: readonly string[];
}

type Goals = Omit<Best, "chosen">;

/** How the oracle came by its best. */
interface Oracle {
  readonly best: Best;
  readonly sets: number | null;
}

/** Plans a season and holds the plan against the best that can be done. */
export async function judge(highs: Highs, season: Season, mostSets = MOST_SETS): Promise<Verdict> {
  const ground = await groundOf(season);
  if (typeof ground === "string") return { word: "skipped", line: `skipped: ${ground}`, breaches: [] };
  const options = runOptions(ground);
  const { real, loose } = oracles(highs, ground, options, mostSets);
  const outcome = await makePlan(season, { seed: 1, iterations: 2000, highs });
  if (outcome.kind !== "planned") {
    return { word: "planner worse", line: `planner worse: ${outcome.kind}`, breaches: [] };
  }
  const { word, line } = compared(outcome.plan, real, loose);
  const doubted = doubts(ground, real.best);
  const breaches = [...auditPlan(season, outcome.plan), ...outcome.setAside].map((one) => one.message);
  return { word, line: doubted.length === 0 ? line : `${line} DOUBT ${doubted.join(" ")}`, breaches };
}

/** The best that surely can be done, and a bound on it: the same unless two lots are mixed and it cannot be said how well that ends. */
function oracles(
  highs: Highs,
  ground: Ground,
  options: readonly RunOption[],
  mostSets: number,
): { real: Oracle; loose: Oracle } {
  const unmixed = options.filter((option) => option.exact);
  if (unmixed.length === options.length) {
    const only = oracle(highs, ground, options, mostSets);
    return { real: only, loose: only };
  }
  let sets: number | null = null;
  const { best, closed } = bestOfMixtures(ground, options, (cut) => {
    const found = oracle(highs, ground, cut, mostSets);
    sets = found.sets;
    return found.best;
  });
  const loose = { best, sets };
  return { real: closed ? loose : oracle(highs, ground, unmixed, mostSets), loose };
}

/** The best over all sets of runs, tried one by one where they are at most `mostSets`. */
export function oracle(
  highs: Highs,
  ground: Ground,
  options: readonly RunOption[],
  mostSets: number,
): Oracle {
  const sets = runSets(ground, options, mostSets);
  if (sets === null) return { best: bestPlan(highs, ground, options)!, sets: null };
  let best: Best | null = null;
  for (const set of sets) {
    const one = bestPlan(highs, ground, set, "all", best === null ? undefined : scoreOf(best));
    if (one !== null && (best === null || compareBest(one, best) < 0)) best = one;
  }
  return { best: best!, sets: sets.length };
}

/** All sets of runs that go together; null when they are too many to try. */
function runSets(
  ground: Ground,
  options: readonly RunOption[],
  mostSets: number,
): RunOption[][] | null {
  let sets: RunOption[][] = [[]];
  for (const option of options) {
    const longer = sets.filter((set) =>
      set.every((other) => other.startDay !== option.startDay && goTogether(ground, other, option))
    );
    sets = [...sets, ...longer.map((set) => [...set, option])];
    if (sets.length > mostSets) return null;
  }
  return sets;
}

function compareBest(a: Best, b: Best): number {
  return scoreOf(b) - scoreOf(a) || a.moneyCents - b.moneyCents;
}

function kg(massG: number): string {
  return `${(massG / 1000).toFixed(1)} kg`;
}

function compared(
  { goals, runs, orders, feedLoads, moves, fills, brews }: Plan,
  real: Oracle,
  loose: Oracle,
): Pick<Verdict, "word" | "line"> {
  const mine = { made: goals.made, promisesHeld: goals.promisesHeld, moneyCents: goals.moneyCents };
  const how = real.sets === null ? "runs chosen by HiGHS" : `${real.sets} sets of runs tried`;
  const behind = difference(mine, real.best), ahead = difference(mine, loose.best);
  const plan = [
    ...runs.map((run) =>
      `run ${run.steepInAt} ${run.maltId} (${run.profileId}) ${
        run.draws.map((draw) => `${draw.lotId} ${draw.storeId} ${kg(draw.massG)}`).join(" + ")
      }`
    ),
    ...orders.map((order) => `order ${order.orderedOn} ${order.offerId}: ${order.packs} packs`),
    ...feedLoads.map((load) =>
      `feed ${load.on} ${load.pickupId}: ${
        load.items.map((item) => `${item.lotId} ${item.storeId} ${kg(item.massG)}`).join(" + ")
      }`
    ),
    ...moves.map((move) =>
      `move ${move.on} ${move.lotId}: ${kg(move.massG)} from ${move.fromStoreId} to ${move.toStoreId}`
    ),
    ...fills.map((fill) => `fill ${fill.on} ${fill.storeId}: ${fill.lotId} ${kg(fill.massG)}`),
    ...brews.map((brew) => `${brew.id} ${brew.on}${brew.promiseHeld ? "" : " home-short"}`),
  ].join("; ");
  const both = `ORACLE ${inWords(real.best.chosen)} PLAN ${plan}`;
  if (behind.worse) {
    return { word: "planner worse", line: `planner worse (${how}): ${behind.says}. ${both}` };
  }
  if (ahead.better) {
    return { word: "planner better", line: `planner better (${how}): ${ahead.says}. ${both}` };
  }
  if (behind.better || ahead.worse) {
    return {
      word: "undecided",
      line: `undecided, better than unmixed runs (${how}): ${behind.says}. ${both}`,
    };
  }
  return { word: "same", line: `same (${how}): ${behind.says}` };
}

/** Mine against the best, level by level. */
function difference(mine: Goals, best: Goals): { worse: boolean; better: boolean; says: string } {
  const levels = [
    ...mine.made.map((count, place) => [`made class ${place + 1}`, best.made[place]! - count] as const),
    ["promises held", best.promisesHeld - mine.promisesHeld] as const,
  ];
  for (const [level, by] of levels) {
    if (by !== 0) return { worse: by > 0, better: by < 0, says: `${level} by ${Math.abs(by)}` };
  }
  const by = mine.moneyCents - best.moneyCents;
  const within = Math.max(LEAST_CENTS, SHARE_OF_MONEY * Math.abs(best.moneyCents));
  const says = `made ${mine.made.join(" ")}, held ${mine.promisesHeld}, money ${mine.moneyCents} cents, ` +
    `oracle ${best.moneyCents}`;
  return { worse: by > within, better: by < -within, says };
}
