import { dateOf, dayNumber, weekday } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import { STAGES } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import type { Shortfall } from "../year/shortfalls.ts";
import { countWords, dayWords } from "../year/words.ts";
import type { Causes } from "./causes.ts";
import { withoutBrews, withRunInWeek, withSoonerMalt, withWiderWindows } from "./ease.ts";
import { remedy, SIZES, type Steps } from "./remedy.ts";
import { weekdays, weekendDays } from "./remedy-days.ts";
import { acres, boughtGrain } from "./remedy-grain.ts";
import { bagPlaces, bigger, bins, larger, malthousePlaces, tanks, vessels } from "./remedy-room.ts";

const WINDOW_DAYS = [7, 14] as const;

const SOONER_DAYS = [7, 14] as const;

/** What could be done about a plan's shortfalls, in order of promise. Of a kind that a season has no use for nothing is listed. */
export function remediesFor(
  season: Season,
  plan: Plan,
  shortfalls: readonly Shortfall[],
  causes: Causes,
): Steps[] {
  const promise = new Map(causes.tried.map(({ limit, gain }) => [
    limit,
    1e9 * gain.brews + 1e6 * gain.promises + gain.homeMaltG / 1000,
  ]));
  const of = (steps: Steps) =>
    Math.max(-1, ...(steps[0]?.limits ?? []).map((limit) => promise.get(limit) ?? 0));
  const all = [
    weekendDays(season),
    weekdays(season),
    ...STAGES.map((stage) => vessels(season, stage)),
    bigger(season),
    ...STAGES.map((stage) => larger(season, stage)),
    malthousePlaces(season),
    bins(season),
    bagPlaces(season),
    tanks(season),
    boughtGrain(season),
    ...acres(season),
    runsInWeeks(season, shortfalls),
    windows(season, plan),
    sooner(season, plan),
    fewer(season, plan, shortfalls),
  ].filter((steps) => steps.length > 0);
  return all.toSorted((a, b) => of(b) - of(a));
}

/** One run more in the week of the first shortfall of home malt whose runs can still be started; see run-values.ts for every week. */
function runsInWeeks(season: Season, shortfalls: readonly Shortfall[]): Steps {
  const free = dayNumber(dateOf(season.fixedAsOf ?? season.asOf)) + season.roster.heldDays;
  const worst = shortfalls.filter((one) => one.kind === "home malt" || one.kind === "unbrewed")
    .toSorted((a, b) => b.brewIds.length - a.brewIds.length)[0];
  if (worst === undefined) return [];
  const malt = season.maltTypes.find((one) => one.id === worst.maltId);
  const back = (malt?.restDays ?? 0) + 14;
  const toStart = (day: number) => (season.weekStartsOn - weekday(day) + 7) % 7;
  // The last whole week that still helps, or the first free one.
  const wanted = worst.fromDay - back, monday = Math.max(wanted + toStart(wanted) - 7, free + toStart(free));
  return [remedy({
    id: "one-run",
    limits: ["steep", "bed", "kiln", "hands"],
    words: `One run more in the week of ${dayWords(monday)}`,
    season: withRunInWeek(season, monday),
    hazards: ["bed", "kiln"],
  })];
}

function windows(season: Season, plan: Plan): Steps {
  const ids = new Set(plan.unbrewed.map((one) => one.id).filter((id) => !id.startsWith("tail-")));
  if (ids.size === 0) return [];
  return WINDOW_DAYS.map((days) =>
    remedy({
      id: `windows-${days}`,
      limits: [],
      words: `Let the ${countWords(ids.size, "brew")} not made move by ${days} days`,
      season: withWiderWindows(season, ids, days),
      costCents: 0,
      hazards: [],
    })
  );
}

function sooner(season: Season, plan: Plan): Steps {
  if (plan.unbrewed.length === 0 || season.supplyOffers.every((one) => one.leadDays === 0)) return [];
  return SOONER_DAYS.map((days) =>
    remedy({
      id: `sooner-${days}`,
      limits: [],
      words: `Order malt ${days} days earlier than is still possible`,
      season: withSoonerMalt(season, days),
      hazards: ["order lifting"],
    })
  );
}

/** Gives up brews of the lowest class among those that fall short, so that the others have what they need. */
function fewer(season: Season, plan: Plan, shortfalls: readonly Shortfall[]): Steps {
  const broken = new Set(plan.brews.filter((one) => !one.promiseHeld).map((one) => one.id));
  const short = new Set(shortfalls.flatMap((one) => one.brewIds).filter((id) => broken.has(id)));
  const rows = season.brews.filter((brew) => short.has(brew.id));
  const lowest = Math.max(0, ...rows.map((brew) => brew.class));
  const least = rows.filter((brew) => brew.class === lowest);
  const beer = season.beers.find((one) => one.id === least[0]?.beerId);
  if (beer === undefined) return [];
  const brews = least.filter((brew) => brew.beerId === beer.id);
  return SIZES.filter((size) => size <= brews.length).map((size) => {
    const givesUp = brews.slice(0, size).map((brew) => brew.id);
    return remedy({
      id: `fewer-${beer.id}-${size}`,
      limits: [],
      words: `Brew ${size} fewer ${beer.name}`,
      season: withoutBrews(season, new Set(givesUp)),
      costCents: 0,
      givesUp,
      hazards: [],
    });
  });
}
