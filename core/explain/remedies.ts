import type { HazardousKind } from "../cautions.ts";
import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import type { Shortfall } from "../year/shortfalls.ts";
import { type Causes, findCauses, type LimitFound } from "./causes.ts";
import { withExtraDays } from "./ease.ts";
import type { Remedy, Steps } from "./remedy.ts";
import { weekendsAhead, workDays } from "./remedy-days.ts";
import { remediesFor } from "./remedy-list.ts";
import { type Resolve, type Trial, Trials } from "./resolve.ts";
import { isNoise, lessOf, usualBrewG, type Worth, worthOf } from "./worth.ts";

/** A remedy with what planning anew with it in place brings. */
export interface Priced {
  readonly id: string;
  readonly words: string;
  readonly costCents: number | null;
  readonly costWords: string;
  /** Over the plan as it stands, brews given up taken off; money without the remedy's own cost. */
  readonly gain: Worth;
  /** Brews won and given up by beer, those without change left out. */
  readonly beers: readonly { readonly beerId: string; readonly brews: number }[];
  /** No measurable gain: not told from nothing by planning anew. */
  readonly isNoise: boolean;
  readonly hazards: readonly HazardousKind[];
  /** The season with the remedy in place and its plan; null where there is no hope and nothing was planned. */
  readonly trial: Trial | null;
  /** Planned in full, as hard as a plan is; the others with a short search. */
  readonly isFirm: boolean;
  /** What is the limit with the remedy in place; left out where it was not looked for, null when nothing binds any more. */
  readonly next?: LimitFound | null;
}

/** A priced remedy at its place, with the prices between which it keeps it. */
export interface Ranked extends Priced {
  /** Beyond this cost the remedy behind it is the better one in money; null where it wins by brews or promises, whatever it costs. */
  readonly holdsToCents: number | null;
  /** Up to this cost it pays for itself in what the plan costs and brings. */
  readonly paysToCents: number;
}

/** What pricing remedies may be given besides. */
export interface RemedyOptions {
  readonly cancelled?: () => boolean;
  /** Called before each remedy that is tried, with how many there may be at most. */
  readonly onTry?: (words: string, done: number, of: number) => void;
}

/** Of so many of the best the limit after it is looked for. */
const NEXT_OF = 2;
/** So many of the best are planned in full. */
const FIRM = 3;

/**
 * Prices remedies one by one, those of the greatest promise first, and hands each out as it is known. A larger size is tried only
 * when the smaller one brought something, and what eases a limit whose end brought nothing is not planned anew: it brings no more.
 */
export async function* priceRemedies(
  season: Season,
  plan: Plan,
  shortfalls: readonly Shortfall[],
  causes: Causes,
  resolve: Resolve,
  options: RemedyOptions = {},
): AsyncGenerator<Priced> {
  const trials = await Trials.open(season, plan, resolve, options.cancelled);
  const usualG = usualBrewG(season, trials.reference);
  const all = remediesFor(season, plan, shortfalls, causes);
  const of = all.reduce((sum, steps) => sum + steps.length, 0);
  const isSmall = (gain: Worth, { limits }: Remedy) =>
    isNoise(gain, trials.reference, usualG, limits.includes("grain") || limits.includes("land"));
  let done = 0;
  for (const listed of all) {
    const isHopeless = isWithoutHope(listed, causes, trials.reference, usualG);
    const steps = isHopeless ? listed.slice(0, 1) : await withUsedDays(trials, listed);
    let last: Trial | null = null;
    for (const remedy of steps) {
      options.onTry?.(remedy.words, done++, of);
      if (isHopeless) {
        yield pricedAtNothing(remedy);
        break;
      }
      const trial: Trial = await tried(trials, remedy, last?.plan);
      // A larger step that brings no more than the smaller one is none.
      if (last !== null && isSmall(lessOf(trial.gain, last.gain), remedy)) break;
      const small = isSmall(trial.gain, remedy);
      // One day alone may well bring nothing where several do.
      if (small && isDays(steps) && remedy !== steps.at(-1)) continue;
      last = trial;
      yield told(remedy, trial, beersWon(season, trials.reference, trial.plan), small);
      if (small) break;
    }
    done += Math.max(0, listed.length - steps.length);
  }
}

/** True when the limit that it eases was taken away whole, and nothing came of it. */
function isWithoutHope(steps: Steps, { tried }: Causes, reference: Plan, usualG: number): boolean {
  const limits = steps[0]?.limits ?? [];
  const known = tried.filter((one) => limits.includes(one.limit));
  return limits.length === 1 && known.length === 1 &&
    isNoise(known[0]!.gain, reference, usualG, limits[0] === "grain" || limits[0] === "land");
}

function pricedAtNothing(remedy: Remedy): Priced {
  const { id, words, costCents, costWords, hazards } = remedy;
  const gain = { brews: 0, promises: 0, homeMaltG: 0, roomG: 0, moneyCents: 0 };
  return {
    ...{ id, words, costCents, costWords, hazards, gain },
    ...{ beers: [], isNoise: true, trial: null, isFirm: false },
  };
}

async function tried(trials: Trials, remedy: Remedy, smaller: Plan | undefined): Promise<Trial> {
  return remedy.givesUp.length > 0 ? await givenUp(trials, remedy) : await trials.of(remedy.season, smaller);
}

function told(remedy: Remedy, trial: Trial, beers: Priced["beers"], noise: boolean): Priced {
  const { id, words, costCents, costWords, hazards } = remedy;
  return {
    ...{ id, words, costCents, costWords, hazards, trial, gain: trial.gain },
    ...{ beers, isNoise: noise, isFirm: false },
  };
}

/** Brews given up are no longer asked for, so the plan without them is what has to be beaten; they still count as lost. */
async function givenUp(trials: Trials, remedy: Remedy): Promise<Trial> {
  const { season, reference } = trials;
  const lost = new Set(remedy.givesUp);
  const found = await trials.resolveOnly(remedy.season);
  const kept = { ...reference, brews: reference.brews.filter((brew) => !lost.has(brew.id)) };
  const plan = found ?? kept;
  return {
    season: remedy.season,
    plan,
    gain: lessOf(worthOf(remedy.season, plan), worthOf(season, reference)),
  };
}

/** Which weekend days are worth working is seen from a plan that may use all of them: those it uses, the earliest first. */
async function withUsedDays(trials: Trials, steps: Steps): Promise<Steps> {
  if (!isDays(steps)) return steps;
  const { season } = trials;
  const open = await trials.of(withExtraDays(season, weekendsAhead(season), 0));
  const used = usedDays(season, open.plan);
  return used.length === 0
    ? steps.slice(0, 1)
    : [...new Set([1, 2, 4, used.length])].filter((size) => size <= used.length)
      .map((size) => workDays(season, used.slice(0, size)));
}

function isDays(steps: Steps): boolean {
  return steps[0]?.id.startsWith("work-days") ?? false;
}

/** Weekend days on which a plan hands anything over. */
function usedDays(season: Season, plan: Plan): string[] {
  const days = new Set(
    plan.runs.flatMap((run) => [run.steepInAt, run.castAt, run.kilnAt, run.stripAt]).map((at) =>
      at.slice(0, 10)
    ),
  );
  return weekendsAhead(season).filter((on) => days.has(on));
}

/** Brews won and lost by beer from one plan to another; beers without change are left out. */
export function beersWon(season: Season, before: Plan, after: Plan): Priced["beers"] {
  const count = (plan: Plan, beerId: string) =>
    plan.brews.filter((brew) => brew.beerId === beerId && brew.on <= season.horizonEnd).length;
  return season.beers.map((beer) => ({
    beerId: beer.id,
    brews: count(after, beer.id) - count(before, beer.id),
  }))
    .filter((one) => one.brews !== 0);
}

/** The best first: brews, then promises, then money less the cost where there is one; then what cannot be told from nothing, and last what loses brews. */
export function ranked(found: readonly Priced[]): Ranked[] {
  const net = (one: Priced) => one.gain.moneyCents - (one.costCents ?? 0);
  const kind = (one: Priced) => one.gain.brews < 0 ? 2 : one.isNoise ? 1 : 0;
  const inOrder = found.toSorted((a, b) =>
    kind(a) - kind(b) || b.gain.brews - a.gain.brews ||
    b.gain.promises - a.gain.promises || net(b) - net(a)
  );
  return inOrder.map((one, at): Ranked => {
    const behind = inOrder[at + 1];
    const alike = behind !== undefined && behind.gain.brews === one.gain.brews &&
      behind.gain.promises === one.gain.promises;
    return {
      ...one,
      holdsToCents: alike && kind(one) === kind(behind) ? one.gain.moneyCents - net(behind) : null,
      paysToCents: Math.max(0, one.gain.moneyCents),
    };
  });
}

/**
 * Plans the best remedies once more in full, so that what is said of them is what a plan with them in place would bring: a short search
 * finds too little rather than too much.
 */
export async function* firmUp(
  trials: Trials,
  found: readonly Priced[],
  options: RemedyOptions = {},
): AsyncGenerator<Priced> {
  const best = ranked(found).filter((one) => !one.isNoise && one.trial !== null).slice(0, FIRM);
  for (const [at, { id }] of best.entries()) {
    const one = found.find((each) => each.id === id)!;
    options.onTry?.(`in full: ${one.words}`, at, best.length);
    const trial = await trials.inFull(one.trial!);
    if (trial === null) continue;
    const { gain, plan } = trial;
    const beers = beersWon(trials.season, trials.reference, plan);
    yield { ...one, trial, gain, beers, isFirm: true };
  }
}

/** Looks for the limit after each of the best remedies: what binds once it is in place. */
export async function* nextLimits(
  shortfalls: readonly Shortfall[],
  found: readonly Ranked[],
  resolve: Resolve,
  options: RemedyOptions = {},
): AsyncGenerator<Ranked> {
  for (const one of found.filter((each) => !each.isNoise).slice(0, NEXT_OF)) {
    if (one.trial === null) continue;
    options.onTry?.(`After: ${one.words}`, 0, 1);
    const { season, plan } = one.trial;
    const next = await findCauses(season, plan, shortfalls, resolve, {
      ...(options.cancelled ? { cancelled: options.cancelled } : {}),
    });
    yield { ...one, next: next.tightest };
  }
}
