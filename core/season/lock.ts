import { dayNumber } from "../calendar.ts";
import { madeFrom } from "./ancestry.ts";
import type { Lot } from "./grain.ts";
import type { MaltType } from "./malthouse.ts";
import type { Season } from "./season.ts";

/** Most deoxynivalenol in raw grain for the mash, mg/kg. */
const RAW_DON_PPM_MOST = 1;

/**
 * Deoxynivalenol that counts against a lot, mg/kg: the greatest latest result of the lot and of all lots that were tipped into it, or
 * that it was split from. Mixing dilutes a toxin and may not make bad grain good, so a result of the mixture does not
 * stand above that of its parts; only a newer result of the part itself does. Undefined when nobody has measured any of
 * them.
 */
export function donPpmOf(season: Season, lot: Lot): number | undefined {
  const values = madeFrom(season, lot).flatMap((one) => latestDonPpm(one) ?? []);
  return values.length === 0 ? undefined : Math.max(...values);
}

/** Whether a lot is dressed seed or has any in it: it can be neither food nor feed again. */
export function holdsTreatedSeed(season: Season, lot: Lot): boolean {
  return madeFrom(season, lot).some((one) => one.treatedSeed);
}

/** The latest result by its day; of one day, the one that stands last in the file. */
function latestDonPpm(lot: Lot): number | undefined {
  let latest: { readonly day: number; readonly donPpm: number } | undefined;
  for (const { resultOn, donPpm } of lot.analyses) {
    if (resultOn === undefined || donPpm === undefined) continue;
    const day = dayNumber(resultOn);
    if (latest === undefined || day >= latest.day) latest = { day, donPpm };
  }
  return latest?.donPpm;
}

/**
 * Whether a lot that malt was made of has failed for it since: such malt stands in the store like held malt, and nobody may
 * brew with it. `maltId` is null for bagged grain.
 */
export function maltIsLocked(season: Season, maltId: string | null, lotIds: readonly string[]): boolean {
  const malt = season.maltTypes.find((one) => one.id === maltId);
  return season.lots.some((lot) => lotIds.includes(lot.id) && isLocked(season, lot, malt));
}

/** Whether a lot has failed for a malt, or as raw grain where `malt` is left out, with all that is in it. */
export function isLocked(season: Season, lot: Lot, malt?: MaltType): boolean {
  const most = malt?.made.from === "grain" ? malt.made.acceptance.donPpmMost : RAW_DON_PPM_MOST;
  return holdsTreatedSeed(season, lot) || (donPpmOf(season, lot) ?? 0) > most;
}
