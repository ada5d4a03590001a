import { dateOf, dayNumber } from "../calendar.ts";
import { forecastHarvestDay, plantingsToCome } from "../season/forecast.ts";
import type { Season } from "../season/season.ts";
import type { BrewMark } from "./brews-band.ts";
import { traceOf } from "./trace.ts";
import type { Year } from "./year.ts";

/** The first beer with grain of the newest harvest in it. Days are day numbers. */
export interface FirstPint {
  readonly harvestYear: number;
  readonly brew: BrewMark;
  /** Day out of the tank as planned, on the late waking of the lot. */
  readonly day: number;
  /** The same where the lot is ready as early, or as late, as harvest and rest may make it and all else keeps pace. */
  readonly early: number;
  readonly late: number;
  /** From field to brew, in a line. */
  readonly chain: string;
}

/** A run that starts within so many days of its lot's waking waits for it; a later one waits for something else. */
const WAITS_DAYS = 7;

/** The newest harvest of the season that is cut inside the days shown. Null where nothing is sown. */
export function newestHarvest(season: Season): number | null {
  const years = season.plantings.filter((one) =>
    one.state !== "lost" && one.harvest.likely <= season.horizonEnd
  ).map((one) => one.harvestYear);
  return years.length === 0 ? null : Math.max(...years);
}

/** The first pint of the newest harvest; null where no brew inside the days shown has any of its grain. */
export function firstPint(season: Season, year: Year): FirstPint | null {
  const harvestYear = newestHarvest(season);
  const fields = new Set(
    year.fields.plantings.filter((one) => one.harvestYear === harvestYear).map((one) => one.node),
  );
  if (harvestYear === null || fields.size === 0) return null;
  const made = year.brews.filter((one) => one.gristG > 0 && !one.tail && one.packagedDay <= year.lastDay)
    .toSorted((a, b) => a.packagedDay - b.packagedDay);
  for (const brew of made) {
    const { nodes, sentence } = traceOf(year, brew.node);
    if (![...nodes].some((id) => fields.has(id))) continue;
    const { sooner, later } = shiftOf(season, year, nodes, harvestYear);
    return {
      harvestYear,
      brew,
      day: brew.packagedDay,
      early: brew.packagedDay - sooner,
      late: brew.packagedDay + later,
      chain: sentence,
    };
  }
  return null;
}

/** By how many days the run behind a brew could come sooner or later, going by harvest and rest of its lot alone. */
function shiftOf(
  season: Season,
  year: Year,
  nodes: ReadonlySet<string>,
  harvestYear: number,
): { sooner: number; later: number } {
  const lots = new Set(season.lots.filter((lot) => lot.harvestYear === harvestYear).map((lot) => lot.id));
  const run =
    year.malthouse.runs.filter((one) => nodes.has(one.node) && one.lotIds.some((id) => lots.has(id)))
      .toSorted((a, b) => (a.stages[0]?.start ?? 0) - (b.stages[0]?.start ?? 0))[0];
  const begun = run?.standing !== "not booked" && run?.standing !== "booked";
  const lot = season.lots.find((one) => run?.lotIds.includes(one.id) && lots.has(one.id));
  if (run === undefined || begun || lot === undefined) return { sooner: 0, later: 0 };
  const { early, planned, late } = wakingOf(season, lot.id);
  const waited = Math.floor(run.stages[0]?.start ?? planned) - planned;
  return {
    sooner: waited <= WAITS_DAYS ? Math.max(0, planned - early) : 0,
    later: Math.max(0, late - planned - Math.max(0, waited)),
  };
}

/** When a lot may wake: the earliest, as it is planned on, and the latest. All the same where nothing is left open. */
function wakingOf(season: Season, lotId: string): { early: number; planned: number; late: number } {
  const lot = season.lots.find((one) => one.id === lotId);
  if (lot?.wakesOn !== undefined) {
    const late = dayNumber(lot.wakesOn.late);
    return { early: dayNumber(lot.wakesOn.early), planned: late, late };
  }
  const toCome = plantingsToCome(season, lotId);
  const latest = (day: (planting: typeof toCome[number]) => number) => Math.max(...toCome.map(day));
  if (toCome.length === 0) return { early: 0, planned: 0, late: 0 };
  const today = dayNumber(dateOf(season.asOf));
  return {
    early: latest((one) => Math.max(today, dayNumber(one.harvest.early)) + one.restAfterHarvestDays.early),
    planned: latest((one) => forecastHarvestDay(one, season.asOf) + one.restAfterHarvestDays.late),
    late: latest((one) => Math.max(today, dayNumber(one.harvest.late)) + one.restAfterHarvestDays.late),
  };
}
