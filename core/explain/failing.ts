import { forecastMassG, plantingsToCome } from "../season/forecast.ts";
import type { Lot } from "../season/grain.ts";
import type { Season } from "../season/season.ts";
import { beersWon, type Priced } from "./remedies.ts";
import type { Trials } from "./resolve.ts";
import { lessOf, type Worth, worthOf } from "./worth.ts";

/** What the year would be if a lot that is still to be cut failed its laboratory test and went as feed. */
export interface Failing {
  readonly lot: Lot;
  readonly massG: number;
  /** What is gained; a loss is less than nothing. */
  readonly gain: Worth;
  readonly beers: Priced["beers"];
}

/** So many lots are tried: those of which most is still to be cut. */
const MOST_LOTS = 3;

/** The farm's own malting lots that are still to be cut, the largest first. */
export function lotsToCome(season: Season): { readonly lot: Lot; readonly massG: number }[] {
  return season.lots.filter((lot) => lot.use === "malting" && lot.owner === "farm")
    .map((lot) => ({
      lot,
      massG: plantingsToCome(season, lot.id).reduce((sum, planting) => sum + forecastMassG(planting), 0),
    }))
    .filter(({ massG }) => massG > 0).toSorted((a, b) => b.massG - a.massG);
}

/** The season in which a lot may not be malted. */
export function withFailedLot(season: Season, lotId: string): Season {
  return {
    ...season,
    lots: season.lots.map((lot) => lot.id === lotId ? { ...lot, use: "feed" as const } : lot),
    // What was booked on it cannot stand.
    bookings: {
      ...season.bookings,
      runs: season.bookings.runs.filter((run) => run.draws.every((draw) => draw.lotId !== lotId)),
    },
  };
}

/** Plans the year anew without the malting grain of each of the largest lots to come, one by one. */
export async function* failingOf(trials: Trials): AsyncGenerator<Failing> {
  const { season, reference } = trials;
  for (const one of lotsToCome(season).slice(0, MOST_LOTS)) {
    const failed = withFailedLot(season, one.lot.id);
    const plan = await trials.resolveOnly(failed);
    if (plan === null) continue;
    const gain = lessOf(worthOf(failed, plan), worthOf(season, reference));
    yield { ...one, gain, beers: beersWon(season, reference, plan) };
  }
}
