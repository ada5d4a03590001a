import { dateOf, dayNumber } from "../calendar.ts";
import { packagedL } from "../physics/glass.ts";
import type { Plan } from "../plan/plan.ts";
import { forecastHarvestDay, plantingsToCome } from "../season/forecast.ts";
import type { Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";
import type { BrewMark } from "../year/brews-band.ts";
import { drawParts, partsOf, type YearParts } from "../year/draw.ts";
import type { Trials } from "./resolve.ts";

/** A year by its harvests: all fields bad, as likely, or good together. */
export const YEAR_KINDS = ["bad", "likely", "good"] as const;
export type YearKind = (typeof YEAR_KINDS)[number];

/** What the harvests to come carry, from the first of them to the end of the days shown. */
export interface Carried {
  /** Litres of packaged beer, each brew counted by its share of home-grown grain. */
  readonly homeL: number;
  /** What grain and home malt left at the end of the days shown would still make, at the plan's own mix of beers. */
  readonly leftL: number;
  /** Day on which that is used up at the plan's own pace; null where there is no pace. */
  readonly lastsToDay: number | null;
  /** Grain that comes in and finds no store, grams. */
  readonly noRoomG: number;
  /** Days on which brews that are not made, or do not hold their promise, were wanted; ascending. */
  readonly shortDays: readonly number[];
}

/** What one kind of year carries. */
export interface HarvestYear extends Carried {
  readonly kind: YearKind;
  /** Of all harvests to come, grams as cut. */
  readonly cutG: number;
}

const G_PER_KG = 1000;
const M2_PER_HA = 10_000;

/** The plantings that are cut inside the days shown and that nobody has weighed yet. */
export function harvestsToCome(season: Season): Planting[] {
  const end = dayNumber(season.horizonEnd);
  return season.lots.flatMap((lot) => plantingsToCome(season, lot.id))
    .filter((planting) => forecastHarvestDay(planting, season.asOf) <= end);
}

/** The season with harvests to come put in other words: what each yields, and when. */
export function withHarvests(season: Season, change: (planting: Planting) => Planting): Season {
  const coming = new Set(harvestsToCome(season).map((one) => one.id));
  return {
    ...season,
    plantings: season.plantings.map((planting) => coming.has(planting.id) ? change(planting) : planting),
  };
}

/** A planting that is sure to yield so much. */
export function yielding(planting: Planting, kgPerHa: number): Planting {
  return { ...planting, yieldKgPerHa: { bad: kgPerHa, likely: kgPerHa, good: kgPerHa } };
}

/** The season in which every harvest to come is as in a bad, likely or good year. */
export function seasonOfKind(season: Season, kind: YearKind): Season {
  return withHarvests(season, (planting) => yielding(planting, planting.yieldKgPerHa[kind]));
}

/** First day on which a harvest to come is expected; null where none is. */
export function firstHarvestDay(season: Season): number | null {
  const days = harvestsToCome(season).map((planting) => forecastHarvestDay(planting, season.asOf));
  return days.length === 0 ? null : Math.min(...days);
}

/** What a plan carries from a day on, inside the days shown and beyond them. */
export function carriedFrom(season: Season, plan: Plan, fromDay: number): Carried {
  const parts = partsOf(season, plan);
  const { brews, lastDay } = drawParts(parts);
  const losses = new Map(season.beers.map((beer) => [beer.id, beer.losses.map((one) => one.share)]));
  const homeL = (of: readonly BrewMark[]) =>
    of.reduce(
      (sum, brew) => sum + brew.homeShare * packagedL(brew.volumeL, losses.get(brew.beerId) ?? []),
      0,
    );
  const shown = brews.filter((brew) => !brew.tail);
  const here = shown.filter((brew) => brew.wantedDay >= fromDay);
  const asOfDay = dayNumber(dateOf(season.asOf));
  const ahead = shown.filter((brew) => brew.day >= asOfDay);
  const homeG = ahead.reduce((sum, brew) => sum + brew.homeShare * brew.gristG, 0);
  const leftL = homeG > 0 ? leftG(season, plan, parts, lastDay) / homeG * homeL(ahead) : 0;
  const litresADay = homeL(ahead) / Math.max(1, lastDay - asOfDay + 1);
  return {
    homeL: homeL(here),
    leftL,
    lastsToDay: litresADay > 0 ? lastDay + Math.floor(leftL / litresADay) : null,
    noRoomG: plan.leftOut.reduce((sum, one) => sum + one.massG, 0),
    shortDays: here.filter((brew) =>
      brew.standing === "unbrewed" || (brew.promise > 0 && brew.gristG > 0 && !brew.promiseHeld)
    )
      .map((brew) => brew.wantedDay).sort((a, b) => a - b),
  };
}

/** Malt of the farm's own that lies in store at a day's end, and what its own malting grain there would give, grams of malt. */
function leftG(season: Season, plan: Plan, { grain, malt, journal }: YearParts, day: number): number {
  const own = season.lots.filter((lot) =>
    lot.use === "malting" && lot.owner === "farm" && lot.origin === "own"
  );
  const grainG = own.reduce((sum, lot) => sum + grain.at(lot.id, day), 0);
  const drawnG = plan.runs.reduce(
    (sum, run) => sum + run.draws.reduce((all, draw) => all + draw.massG, 0),
    0,
  );
  const gaveG = plan.runs.reduce((sum, run) => sum + run.outputs.reduce((all, one) => all + one.massG, 0), 0);
  let maltG = 0;
  for (const [batchId, series] of malt) {
    if (journal.batches.get(batchId)?.home) maltG += Math.max(0, series[day - journal.firstDay] ?? 0);
  }
  return maltG + (drawnG > 0 ? grainG * gaveG / drawnG : 0);
}

/** Plans the year anew with bad and with good harvests; the likely one is planned already. */
export async function* harvestYearsOf(trials: Trials): AsyncGenerator<HarvestYear> {
  const { season, reference } = trials;
  const fromDay = firstHarvestDay(season);
  if (fromDay === null) return;
  for (const kind of YEAR_KINDS) {
    const asked = seasonOfKind(season, kind);
    const plan = kind === "likely" ? reference : await trials.resolveOnly(asked);
    if (plan !== null) yield { kind, cutG: cutG(asked), ...carriedFrom(asked, plan, fromDay) };
  }
}

function cutG(season: Season): number {
  return harvestsToCome(season).reduce(
    (sum, { areaM2, yieldKgPerHa }) => sum + areaM2 / M2_PER_HA * yieldKgPerHa.likely * G_PER_KG,
    0,
  );
}
