import { cautionsFor, type HazardousKind } from "../cautions.ts";
import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { drawParts, partsOf } from "../year/draw.ts";
import { shortfallsIn } from "../year/shortfalls.ts";
import { findCauses } from "./causes.ts";
import { chainOf } from "./chain.ts";
import { firmUp, nextLimits, type Priced, priceRemedies, type Ranked, ranked } from "./remedies.ts";
import { reservesOf } from "./reserve.ts";
import { acreValues } from "./acre.ts";
import { acreWords, failingWords, weekWords } from "./answer-words.ts";
import { failingOf } from "./failing.ts";
import { harvestYearsOf } from "./harvest-years.ts";
import { type DrawnYear, oddsOf, YEARS } from "./odds.ts";
import { oddsOfYears, yearWords } from "./year-words.ts";
import type { ExplainedRemedy, Explanation } from "./explanation.ts";
import { planningOnce, type Resolve, Trials } from "./resolve.ts";
import { runValues, weeksAhead } from "./run-values.ts";
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

/**
 * Beginning with the slack, which is soon known, then the causes, what if the best field failed, what bad and good years carry, each remedy as it is priced, the best of them in full, one acre
 * more, what limits after the best remedy, what one run more is worth week by week, and last twenty years of weather.
 */
export async function* explain(
  season: Season,
  plan: Plan,
  resolveAny: Resolve,
  cancelled: () => boolean = () => false,
): AsyncGenerator<Explanation> {
  const resolve = planningOnce(resolveAny, season);
  const slack = tightestFirst(plan, slackOf(season, plan));
  const parts = partsOf(season, plan), year = drawParts(parts);
  let told: Explanation = {
    format: "rickyard-explanation",
    version: 4,
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
    limits: [],
    shortfalls: [],
    remedies: [],
    acres: [],
    failing: [],
    years: [],
    odds: null,
    weeks: [],
  };
  yield told;
  const shortfalls = shortfallsIn(parts, year);
  const causes = await findCauses(season, plan, shortfalls, resolve, { cancelled });
  told = {
    ...told,
    limit: limitWords(season, causes.tightest),
    limits: causes.tightest?.limits ?? [],
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
        limits,
        isFelt: limits.length > 0 || share < 1,
        fromDay: one.fromDay,
        toDay: one.toDay,
      };
    }),
    doing: "what if the best field failed",
  };
  yield told;
  const trials = await Trials.open(season, plan, resolve, cancelled);
  for await (const one of failingOf(trials)) {
    told = { ...told, failing: [...told.failing, failingWords(season, one)] };
    yield told;
  }
  told = { ...told, doing: "what bad and good years carry" };
  yield told;
  for await (const one of harvestYearsOf(trials)) {
    told = { ...told, years: [...told.years, yearWords(season, one)] };
    yield told;
  }
  if (shortfalls.length === 0) {
    for await (const odds of drawn(trials)) yield told = { ...told, ...odds };
    yield { ...told, doing: "" };
    return;
  }
  yield { ...told, doing: "remedies" };
  const found: Priced[] = [];
  let doing = "";
  let done = 0, of = 0;
  const onTry = (words: string, at: number, all: number) => [doing, done, of] = [words, at, all];
  for await (const one of priceRemedies(season, plan, shortfalls, causes, resolve, { cancelled, onTry })) {
    found.push(one);
    told = { ...told, doing, done, of, remedies: ranked(found).map((each) => remedyWords(season, each)) };
    yield told;
  }
  yield { ...told, doing: "the best remedies in full" };
  for await (const one of firmUp(trials, found, { cancelled, onTry })) {
    found[found.findIndex(({ id }) => id === one.id)] = one;
    told = { ...told, remedies: ranked(found).map((each) => remedyWords(season, each)) };
    yield { ...told, doing, done, of };
  }
  for await (const one of acreValues(trials, found)) {
    told = { ...told, acres: [...told.acres, acreWords(season, one, told.limits)] };
    yield { ...told, doing: "what one more acre is worth" };
  }
  const rows = new Map(ranked(found).map((one) => [one.id, one]));
  const last = nextLimits(shortfalls, [...rows.values()], resolve, { cancelled });
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
  for await (const odds of drawn(trials)) yield told = { ...told, ...odds };
  yield { ...told, doing: "" };
}

/** The odds, as they grow year by year. */
async function* drawn(trials: Trials): AsyncGenerator<Pick<Explanation, "doing" | "done" | "of" | "odds">> {
  const years: DrawnYear[] = [];
  for await (const one of oddsOf(trials)) {
    years.push(one);
    yield {
      doing: "twenty years of weather",
      done: years.length,
      of: YEARS,
      odds: oddsOfYears(trials.season, years),
    };
  }
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
    isFirm: one.isFirm,
    brews: one.gain.brews,
    moneyCents: one.gain.moneyCents,
    costCents: one.costCents,
    cautions: [...new Set(one.hazards.map((kind: HazardousKind) => cautionsFor(kind)[0]!.sentence))],
  };
}
