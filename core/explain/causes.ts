import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import type { Shortfall } from "../year/shortfalls.ts";
import { type Limit, LIMITS } from "./limits.ts";
import { lifted, liftedAll } from "./relax.ts";
import { type Resolve, type Trial, Trials } from "./resolve.ts";
import { missingOf } from "./missing.ts";
import { usualBrewG, type Worth } from "./worth.ts";

/** What was short, found by taking it away: with none of these limits there, so much more would be made. */
export interface LimitFound {
  /** One limit; or several, of which each by itself changes nothing. */
  readonly limits: readonly Limit[];
  readonly evidence: Worth;
}

/** The limit behind one shortfall; no limits when nothing that the farm could have more of would have helped in time. */
export interface ShortfallFound extends LimitFound {
  /** Place in the list of shortfalls. */
  readonly shortfall: number;
  /** Part of what is missing that would be there, 0 to 1; 1 as well where the plan gets round it and nothing is missing. */
  readonly share: number;
}

/** What limits the plan. */
export interface Causes {
  /** The tightest limit, or null when nothing is binding. */
  readonly tightest: LimitFound | null;
  readonly byShortfall: readonly ShortfallFound[];
  /** What each limit taken away by itself would bring. */
  readonly tried: readonly { readonly limit: Limit; readonly gain: Worth }[];
}

/** What a search for causes may be given besides. */
export interface CausesOptions {
  readonly cancelled?: () => boolean;
  /** Called before each season that is planned anew. */
  readonly onTry?: (limits: readonly Limit[]) => void;
}

/** A limit that gives this part of what another gives, and implies less, is believed before it. */
const AS_GOOD = 0.95;
/** A shortfall has the cause that takes away at least this part of it. */
const LEAST_SHARE = 0.5;

/** Finds what limits a plan by taking each limit away, all else as it is, and planning anew. */
export async function findCauses(
  season: Season,
  plan: Plan,
  shortfalls: readonly Shortfall[],
  resolve: Resolve,
  options: CausesOptions = {},
): Promise<Causes> {
  const none: Causes = { tightest: null, byShortfall: [], tried: [] };
  if (shortfalls.length === 0 && !isShort(plan)) return none;
  const trials = await Trials.open(season, plan, resolve, options.cancelled);
  const usualG = usualBrewG(season, trials.reference);
  const singles = new Map<Limit, Trial>();
  for (const limit of LIMITS) {
    options.onTry?.([limit]);
    singles.set(limit, await trials.of(lifted(season, limit)));
  }
  const best = bestOf(singles, trials.reference);
  const units = best === null ? 0 : unitsOf(best.evidence, usualG);
  const enough = Math.max(1, LEAST_PART * missingUnits(trials.reference));
  const together = units >= enough ? null : await togetherOf(trials, singles, usualG, options);
  const found = together !== null && unitsOf(together.evidence, usualG) >= MUCH_MORE * units
    ? together
    : best;
  const tightest = units >= 1 || found === together ? found : null;
  return {
    tightest,
    byShortfall: shortfalls.map((one, at) => shortfallFound(trials.reference, singles, one, at)),
    tried: [...singles].map(([limit, { gain }]) => ({ limit, gain })),
  };
}

/** Anything asked for that is not made, or a promise that does not hold. */
function isShort({ goals, unsold }: Plan): boolean {
  const asked = goals.asked.reduce((sum, one) => sum + one, 0);
  const made = goals.made.reduce((sum, one) => sum + one, 0);
  return made < asked || goals.promisesHeld < made || unsold.length > 0;
}

/** One limit that brings less than this part of what is missing is doubted, and believed unless several together bring twice as much. */
const LEAST_PART = 0.15;
const MUCH_MORE = 2;

function missingUnits({ goals }: Plan): number {
  const asked = goals.asked.reduce((sum, one) => sum + one, 0);
  const made = goals.made.reduce((sum, one) => sum + one, 0);
  return PROMISES_A_BREW * (asked - made) + (asked - goals.promisesHeld);
}

/** Brews and promises gained; where there are none, home malt by the brew. */
function unitsOf(gain: Worth, usualG: number): number {
  return counted(gain) > 0 || usualG === 0 ? counted(gain) : Math.max(0, gain.homeMaltG / usualG);
}

/** The limit whose end brings most: brews and promises, then home malt. Of those as good the first, which implies least. */
function bestOf(singles: ReadonlyMap<Limit, Trial>, reference: Plan): LimitFound | null {
  // More grain is no cure where grain is left out for want of a place: the lift of grain brings a place with it.
  const crowded = reference.leftOut.length > 0 && isGain(singles.get("bins")?.gain);
  const usable = [...singles].filter(([limit]) => !(crowded && (limit === "grain" || limit === "land")));
  for (const measure of [counted, homeMalt]) {
    const most = Math.max(0, ...usable.map(([, { gain }]) => measure(gain)));
    if (most <= 0) continue;
    const [limit, trial] = usable.find(([, { gain }]) => measure(gain) >= AS_GOOD * most)!;
    return { limits: [limit], evidence: trial.gain };
  }
  return null;
}

/** A brew counts for as much as this many promises: the least that the search itself steers by. */
const PROMISES_A_BREW = 3;

function counted(gain: Worth): number {
  return Math.max(0, PROMISES_A_BREW * gain.brews + gain.promises);
}

function homeMalt(gain: Worth): number {
  return Math.max(0, gain.homeMaltG);
}

function isGain(gain: Worth | undefined): boolean {
  return gain !== undefined && (counted(gain) > 0 || gain.homeMaltG > 0);
}

/** Where no limit by itself does anything: the fewest that together do, by putting them back one by one; null when none do. */
async function togetherOf(
  trials: Trials,
  singles: ReadonlyMap<Limit, Trial>,
  usualG: number,
  options: CausesOptions,
): Promise<LimitFound | null> {
  const trial = async (limits: readonly Limit[]) => {
    options.onTry?.(limits);
    return await trials.of(liftedAll(trials.season, limits));
  };
  let kept: Limit[] = LIMITS.filter((limit) => limit !== "land");
  let all = await trial(kept);
  const wanted = AS_GOOD * unitsOf(all.gain, usualG);
  if (unitsOf(all.gain, usualG) < 1) return null;
  const leastFirst = kept.toSorted((a, b) => worth(singles, a, usualG) - worth(singles, b, usualG));
  for (const limit of leastFirst) {
    const without = kept.filter((one) => one !== limit);
    if (without.length === 0) break;
    const next = await trial(without);
    if (unitsOf(next.gain, usualG) < wanted) continue;
    kept = without;
    all = next;
  }
  return { limits: kept, evidence: all.gain };
}

function worth(singles: ReadonlyMap<Limit, Trial>, limit: Limit, usualG: number): number {
  return unitsOf(singles.get(limit)!.gain, usualG);
}

function shortfallFound(
  reference: Plan,
  singles: ReadonlyMap<Limit, Trial>,
  shortfall: Shortfall,
  at: number,
): ShortfallFound {
  const { season } = singles.values().next().value!;
  const before = missingOf(season, reference, shortfall);
  const nothing = { shortfall: at, limits: [], evidence: NOTHING, share: 0 };
  if (before <= 0) return { ...nothing, share: 1 };
  const crowded = shortfall.kind === "no room";
  const shares = [...singles].filter(([limit]) => !(crowded && limit !== "bins")).map(([limit, trial]) => ({
    limit,
    trial,
    share: 1 - missingOf(trial.season, trial.plan, shortfall) / before,
  }));
  const most = Math.max(...shares.map((one) => one.share));
  const found = shares.find((one) => one.share >= AS_GOOD * most);
  if (found === undefined || found.share < LEAST_SHARE) return nothing;
  return { shortfall: at, limits: [found.limit], evidence: found.trial.gain, share: found.share };
}

const NOTHING: Worth = { brews: 0, promises: 0, homeMaltG: 0, roomG: 0, moneyCents: 0 };
