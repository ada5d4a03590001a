import { dateOf, dayNumber } from "../calendar.ts";
import { packagedL } from "../physics/glass.ts";
import type { Plan } from "../plan/plan.ts";
import { forecastHarvestDay, plantingsToCome } from "../season/forecast.ts";
import type { Lot } from "../season/grain.ts";
import type { Planting } from "../season/land.ts";
import type { Crop } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";
import type { BrewMark } from "../year/brews-band.ts";
import { drawParts, partsOf, type YearParts } from "../year/draw.ts";
import type { Trials } from "./resolve.ts";

/** A year by its harvests: all fields bad, as likely, or good together. */
export const YEAR_KINDS = ["bad", "likely", "good"] as const;
export type YearKind = (typeof YEAR_KINDS)[number];

/** What the harvests to come carry, from the day the first of their grain may be awake. */
export interface Carried {
  /** Litres of packaged beer, each brew counted by its share of home-grown grain. */
  readonly homeL: number;
  /** What grain and home malt left at the end of the days shown would still make, until the grain of which most is malted is used up. */
  readonly leftL: number;
  /** Day on which that grain is used up, were all brews made that are asked for; null where brews go short before, and where there is no pace. */
  readonly lastsToDay: number | null;
  /** The farm's own malting grain that comes in and finds no store, grams. */
  readonly noRoomG: number;
  /** Days on which brews that are not made, or do not hold their promise, were wanted; ascending. */
  readonly shortDays: readonly number[];
}

/** What one kind of year carries. */
export interface HarvestYear extends Carried {
  readonly kind: YearKind;
  /** Of all malting harvests to come, grams as cut. */
  readonly cutG: number;
}

const G_PER_KG = 1000;
const M2_PER_HA = 10_000;
/** Grain is not kept for malting longer than that: common practice, no source. */
const MOST_DAYS_LEFT = 3 * 365;

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

/** The farm's own lots for malting. */
function ownLots(season: Season): ReadonlyMap<string, Lot> {
  return new Map(
    season.lots.filter((lot) => lot.use === "malting" && lot.owner === "farm" && lot.origin === "own")
      .map((lot) => [lot.id, lot]),
  );
}

/** The harvests to come that are for the farm's own malting. */
export function maltingHarvests(season: Season): Planting[] {
  const own = ownLots(season);
  return harvestsToCome(season).filter((planting) => own.has(planting.lotId));
}

/** First day on which grain of a malting harvest to come may be awake; null where none is to come. What goes short before is no matter of it. */
export function firstAwakeDay(season: Season): number | null {
  const days = maltingHarvests(season).map((planting) =>
    forecastHarvestDay(planting, season.asOf) + planting.restAfterHarvestDays.early
  );
  return days.length === 0 ? null : Math.min(...days);
}

/** What a plan carries from a day on, inside the days shown and beyond them. */
export function carriedFrom(season: Season, plan: Plan, fromDay: number): Carried {
  const parts = partsOf(season, plan);
  const { brews, lastDay } = drawParts(parts);
  const shown = brews.filter((brew) => !brew.tail);
  const here = shown.filter((brew) => brew.wantedDay >= fromDay);
  const shortDays = here.filter((brew) =>
    brew.standing === "unbrewed" || (brew.promise > 0 && brew.gristG > 0 && !brew.promiseHeld)
  ).map((brew) => brew.wantedDay).sort((a, b) => a - b);
  const asOfDay = dayNumber(dateOf(season.asOf));
  const ahead = shown.filter((brew) => brew.wantedDay >= asOfDay);
  const days = Math.max(1, lastDay - asOfDay + 1);
  const litres = (of: readonly BrewMark[], share: (brew: BrewMark) => number) =>
    of.reduce((sum, brew) => sum + share(brew) * packaged(season, brew), 0);
  const homeMadeL = litres(ahead, (brew) => brew.homeShare);
  const madeL = litres(ahead, (brew) => brew.gristG > 0 ? 1 : 0);
  // Brews that are not made would have used grain, too.
  const asked = madeL > 0 ? litres(ahead, () => 1) / madeL : 1;
  const { leftG, usedG } = mainGrain(season, plan, parts, lastDay);
  const daysLeft = usedG > 0 ? Math.min(MOST_DAYS_LEFT, leftG / (usedG * asked) * days) : 0;
  return {
    homeL: litres(here, (brew) => brew.homeShare),
    leftL: daysLeft * homeMadeL * asked / days,
    lastsToDay: usedG > 0 && shortDays.length === 0 ? lastDay + Math.floor(daysLeft) : null,
    noRoomG: noRoomG(season, plan),
    shortDays,
  };
}

function packaged(season: Season, brew: BrewMark): number {
  const losses = season.beers.find((beer) => beer.id === brew.beerId)?.losses ?? [];
  return packagedL(brew.volumeL, losses.map((one) => one.share));
}

function noRoomG(season: Season, plan: Plan): number {
  const coming = new Set(maltingHarvests(season).map((one) => one.lotId));
  return plan.leftOut.filter((one) => coming.has(one.lotId) && one.on <= season.horizonEnd)
    .reduce((sum, one) => sum + one.massG, 0);
}

/**
 * The farm's own grain of which most is malted, as malt in grams: what brews ahead use of it inside the days shown, and what is left of it at
 * their end, malted and not. Another grain that is left over does not make up for it.
 */
function mainGrain(
  season: Season,
  plan: Plan,
  { grain, malt, journal }: YearParts,
  lastDay: number,
): { leftG: number; usedG: number } {
  const own = ownLots(season);
  const runs = [...season.records.runs, ...plan.runs].flatMap((run) => {
    const crop = own.get(run.draws[0]?.lotId ?? "")?.crop;
    return crop === undefined ? [] : [{ ...run, crop }];
  });
  const cropOf = new Map(runs.flatMap((run) => run.outputs.map((one) => [one.batchId, run.crop] as const)));
  for (const batch of season.opening.malt) {
    const lot = season.lots.find((one) => batch.lotIds.includes(one.id));
    if (batch.home && batch.ingredient.kind === "malt" && lot !== undefined) cropOf.set(batch.id, lot.crop);
  }
  const used = new Map<Crop, number>();
  for (const brew of plan.brews.filter((one) => one.on <= season.horizonEnd)) {
    for (const { from, massG } of brew.grist) {
      const crop = from.kind === "batch" ? cropOf.get(from.batchId) : undefined;
      if (crop !== undefined) used.set(crop, (used.get(crop) ?? 0) + massG);
    }
  }
  const [main] = [...used].toSorted((a, b) => b[1] - a[1]);
  if (main === undefined) return { leftG: 0, usedG: 0 };
  const [crop, usedG] = main;
  const ofCrop = runs.filter((run) => run.crop === crop && run.outputs.length > 0);
  const sum = (of: readonly { massG: number }[]) => of.reduce((all, one) => all + one.massG, 0);
  const drawnG = sum(ofCrop.flatMap((run) => run.draws)), gaveG = sum(ofCrop.flatMap((run) => run.outputs));
  const grainG = [...own.values()].filter((lot) => lot.crop === crop)
    .reduce((all, lot) => all + grain.at(lot.id, lastDay), 0);
  const maltG = [...malt].filter(([batchId]) => cropOf.get(batchId) === crop)
    .reduce((all, [, series]) => all + Math.max(0, series[lastDay - journal.firstDay] ?? 0), 0);
  return { leftG: maltG + (drawnG > 0 ? grainG * gaveG / drawnG : 0), usedG };
}

/** Plans the year anew with bad and with good harvests; the likely one is planned already. */
export async function* harvestYearsOf(trials: Trials): AsyncGenerator<HarvestYear> {
  const { season, reference } = trials;
  const fromDay = firstAwakeDay(season);
  if (fromDay === null) return;
  for (const kind of YEAR_KINDS) {
    const asked = seasonOfKind(season, kind);
    const plan = kind === "likely" ? reference : await trials.resolveOnly(asked);
    if (plan !== null) yield { kind, cutG: cutG(asked), ...carriedFrom(asked, plan, fromDay) };
  }
}

function cutG(season: Season): number {
  return maltingHarvests(season).reduce(
    (sum, { areaM2, yieldKgPerHa }) => sum + areaM2 / M2_PER_HA * yieldKgPerHa.likely * G_PER_KG,
    0,
  );
}
