import { cautionsFor, type HazardousKind } from "../cautions.ts";
import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { drawParts, partsOf } from "../year/draw.ts";
import type { RunSlackWords, RunWorth } from "../year/run-worth.ts";
import { shortfallsIn } from "../year/shortfalls.ts";
import { findCauses } from "./causes.ts";
import { chainOf } from "./chain.ts";
import { nextLimits, type Priced, priceRemedies, type Ranked, ranked } from "./remedies.ts";
import { reservesOf } from "./reserve.ts";
import type { Resolve } from "./resolve.ts";
import { runValues, weeksAhead, type WeekValue } from "./run-values.ts";
import { isPressed, slackOf, tightestFirst } from "./slack.ts";
import {
  beerWords,
  breaksWords,
  costWords,
  gainWords,
  limitNames,
  limitWords,
  moneyWords,
  rankWords,
  reserveWords,
  slackWords,
} from "./words.ts";

/** What stands behind one shortfall of the year. `what` is the shortfall's own text and finds it again. */
export interface ExplainedShortfall {
  readonly what: string;
  /** "With the kiln no limit, it would not fall short.", or that nothing would have helped. */
  readonly words: string;
  readonly chain: readonly string[];
}

/** One remedy in words. */
export interface ExplainedRemedy {
  readonly id: string;
  readonly words: string;
  /** "3 more brews and 5 more promises held", or "no measurable gain". */
  readonly effect: string;
  readonly beers: string;
  readonly money: string;
  readonly cost: string;
  readonly rank: string;
  /** The limit once it is in place; empty where it was not looked for. */
  readonly next: string;
  readonly isNoise: boolean;
  readonly cautions: readonly string[];
}

/** How far one run may slip: "may slip 2 days: ...". */
export interface ExplainedSlack extends RunSlackWords {
  readonly days: number;
  /** A brew inside the horizon would be lost or go short, so it is pressed by more than the run behind it. */
  readonly isPressed: boolean;
}

/** Everything about a plan that takes planning other seasons to know; grows until `doing` is empty. */
export interface Explanation {
  readonly format: "rickyard-explanation";
  readonly version: 2;
  /** What is being tried, and how far it is; empty when nothing is left to try. */
  readonly doing: string;
  readonly done: number;
  readonly of: number;
  /** The line under the year's sentence. */
  readonly breaksFirst: string;
  /** How far each free run may slip, the run that would break the plan first at the head. */
  readonly slack: readonly ExplainedSlack[];
  /** "Pale: least on 3 Mar, 120 kg below its reserve" by malt. */
  readonly reserves: readonly string[];
  /** Empty until it is known. */
  readonly limit: string;
  readonly shortfalls: readonly ExplainedShortfall[];
  readonly remedies: readonly ExplainedRemedy[];
  /** What one run more would be worth by week, in order of week, as far as it is known. */
  readonly weeks: readonly RunWorth[];
}

/** Beginning with the slack, which is soon known, then the causes, then each remedy as it is priced, then what limits after the best, then what one run more is worth week by week. */
export async function* explain(
  season: Season,
  plan: Plan,
  resolve: Resolve,
  cancelled: () => boolean = () => false,
): AsyncGenerator<Explanation> {
  const slack = tightestFirst(plan, slackOf(season, plan));
  const parts = partsOf(season, plan), year = drawParts(parts);
  let told: Explanation = {
    format: "rickyard-explanation",
    version: 2,
    doing: "what limits the year",
    done: 0,
    of: 0,
    breaksFirst: breaksWords(season, plan, slack[0] ?? null),
    slack: slack.map((one) => ({
      runId: one.runId,
      days: one.maySlipDays,
      isPressed: isPressed(one),
      words: slackWords(one),
    })),
    reserves: reservesOf(year).map((one) => reserveWords(season, one)),
    limit: "",
    shortfalls: [],
    remedies: [],
    weeks: [],
  };
  yield told;
  const shortfalls = shortfallsIn(parts, year);
  const causes = await findCauses(season, plan, shortfalls, resolve, { cancelled });
  told = {
    ...told,
    limit: limitWords(season, causes.tightest),
    shortfalls: causes.byShortfall.map(({ shortfall, limits, share }) => {
      const one = shortfalls[shortfall]!;
      const much = share > 0.95
        ? "it would not fall short"
        : `${Math.round(share * 100)} % of it would be there`;
      return {
        what: one.what,
        words: limits.length === 0 && share === 1
          ? "The plan gets round it: no brew is lost."
          : limits.length === 0
          ? "More of any one thing would not have mended it in time."
          : `With ${limitNames(limits)} no limit, ${much}.`,
        chain: chainOf(parts, year, one, limits).map((link) => link.words),
      };
    }),
    doing: shortfalls.length === 0 ? "" : "remedies",
  };
  yield told;
  if (shortfalls.length === 0) return;
  const found: Priced[] = [];
  let doing = "";
  let done = 0, of = 0;
  const onTry = (words: string, at: number, all: number) => [doing, done, of] = [words, at, all];
  for await (const one of priceRemedies(season, plan, shortfalls, causes, resolve, { cancelled, onTry })) {
    found.push(one);
    told = { ...told, doing, done, of, remedies: ranked(found).map((each) => remedyWords(season, each)) };
    yield told;
  }
  const rows = new Map(ranked(found).map((one) => [one.id, one]));
  const last = nextLimits(season, plan, shortfalls, causes, [...rows.values()], resolve, { cancelled });
  for await (const one of last) {
    rows.set(one.id, one);
    told = { ...told, doing: "what limits after the best remedy", remedies: inWords(season, rows) };
    yield told;
  }
  told = { ...told, remedies: inWords(season, rows) };
  for await (const one of runValues(season, plan, resolve, weeksAhead(season), { cancelled, onTry })) {
    const weeks = [...told.weeks, weekWords(season, one)].sort((a, b) => a.day - b.day);
    told = { ...told, doing, done, of, weeks };
    yield told;
  }
  yield { ...told, doing: "" };
}

function weekWords(season: Season, { day, gain, isNoise }: WeekValue): RunWorth {
  const { brews, promises, homeMaltG } = gain;
  const words = isNoise ? "no measurable gain" : gainWords(season, gain);
  return { day, brews, promises, homeMaltG, words, isNoise };
}

function inWords(season: Season, rows: ReadonlyMap<string, Ranked>): ExplainedRemedy[] {
  return [...rows.values()].map((one) => remedyWords(season, one));
}

function remedyWords(season: Season, one: Ranked): ExplainedRemedy {
  return {
    id: one.id,
    words: one.words,
    effect: one.isNoise ? "no measurable gain" : gainWords(season, one.gain),
    beers: beerWords(season, one.beers),
    money: moneyWords(season, one),
    cost: costWords(season, one),
    rank: rankWords(season, one),
    next: one.next === undefined
      ? ""
      : one.next === null
      ? "after it nothing is binding"
      : `after it ${limitNames(one.next.limits)} would be the limit`,
    isNoise: one.isNoise,
    cautions: [...new Set(one.hazards.map((kind: HazardousKind) => cautionsFor(kind)[0]!.sentence))],
  };
}
