import { dateOf, dayNumber, isoDate } from "../calendar.ts";
import { type Chance, chance } from "../search/chance.ts";
import type { Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";
import { carriedFrom, firstAwakeDay, withHarvests, yielding } from "./harvest-years.ts";
import type { Trials } from "./resolve.ts";

/** Years that are drawn: each as likely as any other, from the worst for the crop to the best. */
export const YEARS = 20;
/** The same years for every farm and every plan. */
const SEED = 1;
/** Part of the spread of yields that all fields share, as they share the weather: common practice, no source. */
const SHARED = 0.7;

/** A year that was drawn: the day of the first brew that goes short, or null where none does. A year that found no plan is short of all. */
export interface DrawnYear {
  readonly firstShortDay: number | null;
  readonly isPlanned: boolean;
}

/** How far out, in standard deviations of the normal distribution, what one in ten lies below, and what two in ten lie above. */
const ONE_IN_TEN = -1.2816;
const TWO_IN_TEN_ABOVE = 0.8416;

/** The middles of the upper ten of twenty equal parts of the normal distribution, in standard deviations. */
const MIDDLES = [0.0627, 0.1891, 0.3186, 0.4538, 0.5978, 0.7554, 0.9346, 1.1503, 1.4395, 1.96] as const;

/** Twenty years' weather, in standard deviations, the worst first. */
export const WEATHER: readonly number[] = [...MIDDLES.map((one) => -one).reverse(), ...MIDDLES];

/** Bad, good and middling years in turn, so that those planned first speak for all. */
const STRIDE = 7;

/**
 * The harvests of a year as weather and luck may make them. A yield's bad and good are taken as what one year in ten falls below and rises
 * above (common practice, no source); of dates the file says how often they are early and late. Yields share 7 tenths of their
 * spread; days of harvest and of waking are drawn apart.
 */
export function drawnSeason(season: Season, weather: number, luck: Chance): Season {
  const today = dayNumber(dateOf(season.asOf));
  return withHarvests(season, (planting) => drawnPlanting(planting, weather, luck, today));
}

function drawnPlanting(planting: Planting, weather: number, luck: Chance, today: number): Planting {
  const { yieldKgPerHa, harvest, restAfterHarvestDays: rest } = planting;
  const out = Math.sqrt(SHARED) * weather + Math.sqrt(1 - SHARED) * normal(luck);
  const kgPerHa = between(
    [yieldKgPerHa.bad, yieldKgPerHa.likely, yieldKgPerHa.good],
    out / -ONE_IN_TEN,
  );
  const spread = (early: number, likely: number, late: number) => {
    const by = normal(luck);
    return Math.round(between([early, likely, late], by < 0 ? by / -ONE_IN_TEN : by / TWO_IN_TEN_ABOVE));
  };
  const cutDay = spread(dayNumber(harvest.early), dayNumber(harvest.likely), dayNumber(harvest.late));
  const cutOn = isoDate(Math.max(today, dayNumber(planting.drillOn) + 1, cutDay));
  const restDays = Math.max(0, spread(rest.early, rest.likely, rest.late));
  return {
    ...yielding(planting, Math.max(0, kgPerHa)),
    harvest: { early: cutOn, likely: cutOn, late: cutOn },
    restAfterHarvestDays: { early: restDays, likely: restDays, late: restDays },
  };
}

/** From -1 (the first) over 0 (the second) to 1 (the third), and on beyond them. */
function between([low, middle, high]: readonly [number, number, number], at: number): number {
  return at < 0 ? middle + (middle - low) * at : middle + (high - middle) * at;
}

/** A normal deviate by Box and Muller's method (G. E. P. Box, M. E. Muller: A note on the generation of random normal deviates, 1958). */
function normal(luck: Chance): number {
  const distance = Math.sqrt(-2 * Math.log(1 - luck.fraction()));
  return distance * Math.cos(2 * Math.PI * luck.fraction());
}

/** Plans twenty drawn years anew, one by one. Nothing where no harvest is to come. */
export async function* oddsOf(trials: Trials): AsyncGenerator<DrawnYear> {
  const { season } = trials;
  const fromDay = firstAwakeDay(season);
  if (fromDay === null) return;
  const luck = chance(SEED);
  for (let at = 0; at < YEARS; at++) {
    const drawn = drawnSeason(season, WEATHER[at * STRIDE % YEARS]!, luck);
    const plan = await trials.resolveOnly(drawn);
    const firstShortDay = plan === null ? fromDay : carriedFrom(drawn, plan, fromDay).shortDays[0] ?? null;
    yield { firstShortDay, isPlanned: plan !== null };
  }
}
