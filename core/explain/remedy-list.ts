import { addDays, dateOf, dayNumber, isoDate, weekday } from "../calendar.ts";
import type { HazardousKind } from "../cautions.ts";
import type { Plan } from "../plan/plan.ts";
import { HAND_OVERS, STAGES } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { SQUARE_METRES_PER_ACRE } from "../units.ts";
import type { Shortfall } from "../year/shortfalls.ts";
import { countWords, dayWords, listWords, tonneWords, upperFirst } from "../year/words.ts";
import type { Causes } from "./causes.ts";
import {
  withArea,
  withBagPlaces,
  withBiggerLoads,
  withBin,
  withBoughtGrain,
  withExtraDays,
  withoutBrews,
  withRunInWeek,
  withSoonerMalt,
  withWiderWindows,
} from "./ease.ts";
import type { Limit } from "./limits.ts";
import { vesselsOf, withPlaces, withTanks, withVessels } from "./relax.ts";

/** Something a farm could do, in one size. */
export interface Remedy {
  readonly id: string;
  /** What it eases; where that limit taken away whole brings nothing, the remedy brings nothing either. */
  readonly limits: readonly Limit[];
  /** "Work 2 weekend days". */
  readonly words: string;
  /** What it costs beyond what the plan counts, in cents; null where the season gives no price. */
  readonly costCents: number | null;
  /** Where the price comes from; empty where there is none. */
  readonly costWords: string;
  /** Brews that are given up for it. */
  readonly givesUp: readonly string[];
  readonly hazards: readonly HazardousKind[];
  readonly season: Season;
}

/** One remedy in its sizes, the least first. */
export type Steps = readonly Remedy[];

const SIZES = [1, 2, 4] as const;
/** Days that are named one by one. */
const MOST_NAMED = 4;
const HECTARE_M2 = 10_000;
/** A load by so much larger. */
const BIGGER = 0.25;
const LARGER = 0.5;
/** Bag places for grain are added by the pallet's worth. */
const BAG_SIZES = [2, 4, 8] as const;
const WINDOW_DAYS = [7, 14] as const;
const SOONER_DAYS = [7, 14] as const;
const BUY_LOADS = [2, 4] as const;
/** Bought grain comes this many days after as-of at the soonest: common practice, no source. */
const BUY_DAYS = 14;

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

function remedy(
  one: Pick<Remedy, "id" | "limits" | "words" | "season" | "hazards"> & Partial<Remedy>,
): Remedy {
  return { costCents: null, costWords: "", givesUp: [], ...one };
}

/** Days from the first free one on to the last shown on which not every hand-over is staffed, Sundays and Saturdays alone. */
export function weekendsAhead(season: Season): string[] {
  const asOf = dayNumber(dateOf(season.fixedAsOf ?? season.asOf));
  const days = [6, 7].filter((day) => !isStaffed(season, day));
  const dates: string[] = [];
  for (let day = asOf + season.roster.heldDays; day <= dayNumber(season.horizonEnd); day++) {
    if (days.includes(weekday(day))) dates.push(isoDate(day));
  }
  return dates;
}

/** What one extra day costs: the mean of what the season's own extra days cost; null where it has none with a price. */
export function extraDayCents(season: Season): number | null {
  const prices = season.roster.extra.map((one) => one.costCents).filter((one) => one > 0);
  return prices.length === 0 ? null : Math.round(prices.reduce((sum, one) => sum + one, 0) / prices.length);
}

/** Of the weekend days that a plan with all of them open uses, the first one, two and four: see `usedDays` in remedies.ts. */
function weekendDays(season: Season): Steps {
  const dates = weekendsAhead(season);
  return dates.length === 0 ? [] : SIZES.map((size) => workDays(season, dates.slice(0, size)));
}

/** Some days worked besides. */
export function workDays(season: Season, dates: readonly string[]): Remedy {
  const price = extraDayCents(season);
  const first = dates.slice(0, MOST_NAMED).map((on) => dayWords(dayNumber(on)));
  const named = dates.length > MOST_NAMED ? [...first, `${dates.length - MOST_NAMED} more`] : first;
  return remedy({
    id: `work-days-${dates.length}`,
    limits: ["hands"],
    words: `Work ${countWords(dates.length, "weekend day")}: ${listWords(named)}`,
    season: withExtraDays(season, dates, price ?? 0),
    costCents: price === null ? null : 0,
    costWords: price === null ? "" : "counted in the money, at what the roster's extra days cost",
    hazards: ["look-in", "kiln night"],
  });
}

const WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday"] as const;

/** Somebody there for every hand-over on one more working day of each week: the first that is missing, from the middle of the week. */
function weekdays(season: Season): Steps {
  const missing = [3, 4, 2, 5, 1].find((day) => !isStaffed(season, day));
  if (missing === undefined) return [];
  const { weekly } = season.roster;
  const window = { weekdays: [missing], from: "07:00", to: "16:00", handOvers: [...HAND_OVERS] };
  return [remedy({
    id: `every-${WEEKDAYS[missing - 1]!.toLowerCase()}`,
    limits: ["hands"],
    words: `Somebody there for every hand-over on ${WEEKDAYS[missing - 1]}s as well`,
    season: { ...season, roster: { ...season.roster, weekly: [...weekly, window] } },
    hazards: ["look-in"],
  })];
}

/** Whether each kind of hand-over may fall on a weekday. */
function isStaffed({ roster }: Season, day: number): boolean {
  return HAND_OVERS.every((handOver) =>
    roster.weekly.some((one) => one.weekdays.includes(day) && one.handOvers.includes(handOver))
  );
}

function vessels(season: Season, stage: (typeof STAGES)[number]): Steps {
  if (vesselsOf(season, stage).length === 0) return [];
  return [1, 2].map((count) =>
    remedy({
      id: `more-${stage}-${count}`,
      limits: [stage],
      words: count === 1 ? `Another ${stage}` : `Two more ${stage}s`,
      season: withVessels(season, stage, { count, loads: 1 }),
      hazards: [stage],
    })
  );
}

function bigger(season: Season): Steps {
  if (season.vessels.length === 0) return [];
  return [remedy({
    id: "bigger-loads",
    limits: ["steep", "bed", "kiln"],
    words: "Steep, bed and kiln that take a quarter more",
    season: withBiggerLoads(season, BIGGER),
    hazards: ["bed", "kiln"],
  })];
}

/** Larger vessels of one stage; where they are the same for every stage, that is what `bigger` tells. */
function larger(season: Season, stage: (typeof STAGES)[number]): Steps {
  const own = vesselsOf(season, stage);
  if (own.length === 0 || own.some((vessel) => vessel.stages.length > 1)) return [];
  return [remedy({
    id: `larger-${stage}`,
    limits: [stage],
    words: `${
      own.length === 1 ? `A ${stage} that takes` : `${upperFirst(stage)}s that take`
    } half as much again`,
    season: withBiggerLoads(season, LARGER, [stage]),
    hazards: [stage],
  })];
}

function malthousePlaces(season: Season): Steps {
  return SIZES.map((size) =>
    remedy({
      id: `malt-places-${size}`,
      limits: ["store"],
      words: `${countWords(size, "more place")} in the malt store`,
      season: withPlaces(season, size),
      hazards: ["malt store"],
    })
  );
}

function bins(season: Season): Steps {
  const eased = withBin(season);
  return eased === null ? [] : [remedy({
    id: "more-bin",
    limits: ["bins"],
    words: "Another bin, like the largest",
    season: eased,
    hazards: ["bin fill"],
  })];
}

function bagPlaces(season: Season): Steps {
  return BAG_SIZES.flatMap((size) => {
    const eased = withBagPlaces(season, size);
    return eased === null ? [] : [remedy({
      id: `bag-places-${size}`,
      limits: ["bins"],
      words: `${size} more bag places for grain`,
      season: eased,
      hazards: ["move"],
    })];
  });
}

function tanks(season: Season): Steps {
  if (season.tanks.length === 0) return [];
  return [1, 2].map((count) =>
    remedy({
      id: `more-tank-${count}`,
      limits: ["tanks"],
      words: count === 1 ? "Another fermenter" : "Two more fermenters",
      season: withTanks(season, count),
      hazards: ["cellar"],
    })
  );
}

function boughtGrain(season: Season): Steps {
  const asOf = dateOf(season.fixedAsOf ?? season.asOf);
  const on = addDays(asOf, BUY_DAYS);
  const loadG = Math.max(
    0,
    ...vesselsOf(season, "bed").flatMap((one) => one.loadLimits.map((each) => each.greatestG)),
  );
  const price = season.contracts.find((one) => one.kind === "buy-grain" && one.perTonneCents > 0);
  const [crop] = season.maltTypes.flatMap((malt) => malt.made.from === "grain" ? malt.made.crops : []);
  if (crop === undefined || loadG === 0) return [];
  return BUY_LOADS.flatMap((loads) => {
    const massG = loads * loadG, eased = withBoughtGrain(season, crop, massG, on);
    return eased === null ? [] : [remedy({
      id: `buy-grain-${loads}`,
      limits: ["grain"],
      words: `Buy ${tonneWords(massG)} of ${crop}, there by ${dayWords(dayNumber(on))}`,
      season: eased,
      costCents: price?.kind === "buy-grain" ? Math.round(price.perTonneCents * massG / 1e6) : null,
      costWords: price === undefined ? "" : "at the price of the season's own contract",
      hazards: ["bin fill"],
    })];
  });
}

function acres(season: Season): Steps[] {
  const isUs = season.readerUnits === "us";
  const unitM2 = isUs ? SQUARE_METRES_PER_ACRE : HECTARE_M2;
  const ahead = season.plantings.filter((one) =>
    one.state === "planned" && one.drillOn >= dateOf(season.fixedAsOf ?? season.asOf)
  );
  return ahead.map((planting) =>
    SIZES.map((size) =>
      remedy({
        id: `area-${planting.id}-${size}`,
        limits: ["land"],
        words: `${
          countWords(size, isUs ? "more acre" : "more hectare")
        } of ${planting.sowingSeason} ${planting.crop}`,
        season: withArea(season, planting.id, size * unitM2),
        hazards: ["harvest"],
      })
    )
  );
}

/** One run more in the week of the first shortfall of home malt whose runs can still be started; see `runValues` for every week. */
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
