import { dateOf } from "../calendar.ts";
import { forecastMassG } from "../season/forecast.ts";
import type { Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";
import { SQUARE_METRES_PER_ACRE } from "../units.ts";
import { withArea } from "./ease.ts";
import type { Priced } from "./remedies.ts";
import type { Trials } from "./resolve.ts";

const HECTARE_M2 = 10_000;

/** Land in the reader's own unit: an acre or a hectare. */
export interface LandUnit {
  readonly name: "acre" | "hectare";
  readonly areaM2: number;
}

/** The unit in which a farm reads its land. */
export function landUnit({ readerUnits }: Season): LandUnit {
  return readerUnits === "us"
    ? { name: "acre", areaM2: SQUARE_METRES_PER_ACRE }
    : { name: "hectare", areaM2: HECTARE_M2 };
}

/** Plantings of which more could still be drilled. */
export function plantingsAhead(season: Season): Planting[] {
  return season.plantings.filter((one) =>
    one.state === "planned" && one.drillOn >= dateOf(season.fixedAsOf ?? season.asOf)
  );
}

/** A bad to a good year, in cents. */
export interface Range {
  readonly bad: number;
  readonly good: number;
}

/** What one unit of land more of a planting is worth before the cost of growing it. */
export interface AcreValue {
  readonly planting: Planting;
  /** The plan made anew with it, in a likely year; null where that cannot be told from nothing. */
  readonly priced: Priced | null;
  /** What plans made anew with it bring in money in a bad and in a good year; null where nothing is gained. */
  readonly money: Range | null;
  /** What the grain of it would fetch as feed, at the best price that a pick-up of the season names; null where none takes the crop. */
  readonly feed: Range | null;
}

/** Values one unit of land more of each planting that is still to be drilled; `priced` are the remedies as they were planned. */
export async function* acreValues(trials: Trials, priced: readonly Priced[]): AsyncGenerator<AcreValue> {
  const { season } = trials;
  const unit = landUnit(season);
  for (const planting of plantingsAhead(season)) {
    const likely = priced.find((one) => one.id === `area-${planting.id}-1`);
    const told = likely === undefined || likely.isNoise ? null : likely;
    const { bad, good } = planting.yieldKgPerHa;
    const money = async (yieldKgPerHa: number) => {
      const areaM2 = unit.areaM2 * yieldKgPerHa / planting.yieldKgPerHa.likely;
      return (await trials.of(withArea(season, planting.id, areaM2))).gain.moneyCents;
    };
    yield {
      planting,
      priced: told,
      money: told === null ? null : { bad: await money(bad), good: await money(good) },
      feed: feedRange(season, planting, unit),
    };
  }
}

function feedRange(season: Season, planting: Planting, { areaM2 }: LandUnit): Range | null {
  const prices = season.feedPickups.filter((one) => one.crops.includes(planting.crop)).map((one) =>
    one.perTonneCents
  );
  if (prices.length === 0) return null;
  const of = (likely: number) =>
    Math.round(
      forecastMassG({ ...planting, areaM2, yieldKgPerHa: { ...planting.yieldKgPerHa, likely } }) / 1e6 *
        Math.max(...prices),
    );
  return { bad: of(planting.yieldKgPerHa.bad), good: of(planting.yieldKgPerHa.good) };
}
