import { dayNumber, isoDate } from "../calendar.ts";
import { hasUntoldGrain } from "../season/ancestry.ts";
import { forecastHarvestDay } from "../season/forecast.ts";
import type { Lot } from "../season/grain.ts";
import type { Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";
import type { Journal } from "./journal.ts";
import type { Stopped } from "./stopped.ts";

/** Plantings and lots as they stand when the season is stopped. */
export function landAt(stopped: Stopped): Pick<Season, "plantings" | "lots"> {
  const { season, journal, toCome } = stopped;
  const harvested = harvestedBy(journal, toCome);
  return {
    plantings: season.plantings.map((one) => harvested.has(one.id) ? { ...one, state: "harvested" } : one),
    lots: season.lots.map((lot) => withMixes(season, weighedLot(journal, lot, harvested, toCome))),
  };
}

/** Plantings whose grain came in before the day. */
function harvestedBy(journal: Journal, day: number): Set<string> {
  const come = new Set(journal.fills.filter((one) => one.day < day).map((one) => one.lotId));
  for (const one of journal.plan?.leftOut ?? []) if (dayNumber(one.on) < day) come.add(one.lotId);
  return new Set(
    journal.season.plantings
      .filter((one) =>
        come.has(one.lotId) && (one.state === "planned" || one.state === "sown") &&
        dayNumber(one.harvest.likely) < day
      )
      .map((one) => one.id),
  );
}

/** A lot that has come in is no forecast any more, and keeps the waking days it was planned with. */
function weighedLot(journal: Journal, lot: Lot, harvested: ReadonlySet<string>, day: number): Lot {
  const came = journal.fills.find((one) => one.lotId === lot.id && one.day < day);
  if (!lot.forecast || came === undefined) return lot;
  const plantings = journal.season.plantings.filter((one) => one.lotId === lot.id);
  if (plantings.some((one) => !harvested.has(one.id) && one.state !== "harvested" && one.state !== "lost")) {
    return lot;
  }
  const grown = plantings.filter((one) => one.state !== "lost");
  const wakes = (which: "early" | "likely" | "late") =>
    isoDate(Math.max(...grown.map((one) => cutDay(journal, one) + one.restAfterHarvestDays[which])));
  return {
    ...lot,
    forecast: false,
    formedOn: isoDate(came.day),
    ...(lot.wakesOn === undefined && grown.length > 0
      ? { wakesOn: { early: wakes("early"), likely: wakes("likely"), late: wakes("late") } }
      : {}),
  };
}

/** The day from which a planting's rest counts: that of its forecast, or the last one on which it was weighed. */
function cutDay({ season }: Journal, planting: Planting): number {
  if (planting.state === "planned" || planting.state === "sown") {
    return forecastHarvestDay(planting, season.asOf);
  }
  const weighed = season.weighTickets.filter((one) => one.plantingId === planting.id)
    .map((one) => dayNumber(one.on));
  return weighed.length === 0 ? dayNumber(planting.harvest.likely) : Math.max(...weighed);
}

/** A lot with what records tipped into it among its parents: the records stay behind, its ancestry must not. */
function withMixes(season: Season, lot: Lot): Lot {
  const mixes = season.records.mixes.filter((mix) => mix.intoLotId === lot.id);
  if (mixes.length === 0) return lot;
  const formedG = new Map<string, number>(), laterG = new Map<string, number>();
  for (const mix of mixes) {
    // What it was formed of is often named twice, by the lot and by the record; what came later is named once.
    const sums = mix.on <= lot.formedOn ? formedG : laterG;
    for (const { lotId, massG } of mix.parents) sums.set(lotId, (sums.get(lotId) ?? 0) + massG);
  }
  for (const one of lot.parents) {
    if (one.kind === "lot") formedG.set(one.lotId, Math.max(one.massG, formedG.get(one.lotId) ?? 0));
  }
  const tipped = [...new Set([...formedG.keys(), ...laterG.keys()])].map((lotId) => ({
    kind: "lot" as const,
    lotId,
    massG: (formedG.get(lotId) ?? 0) + (laterG.get(lotId) ?? 0),
  }));
  const untold = hasUntoldGrain(season, lot) ? [{ kind: "bought" as const, from: UNTOLD }] : [];
  return { ...lot, parents: [...lot.parents.filter((one) => one.kind !== "lot"), ...untold, ...tipped] };
}

/** Stands for grain that was in a lot before anything was tipped into it, and that names no parents. */
const UNTOLD = "grain whose origin nobody wrote down";

/**
 * Mixes that parents alone cannot tell: grain tipped into a lot after it was formed, where a beer asks for that very lot unmixed.
 * They are older than the opening position, so they move no grain.
 */
export function mixesToKeep({ season, date }: Stopped): Season["records"]["mixes"] {
  const unmixed = new Set(
    season.beers.flatMap((beer) =>
      beer.requires.flatMap((rule) => rule.kind === "lot" && rule.unmixed ? rule.ids : [])
    ),
  );
  return season.records.mixes.filter((mix) => {
    const lot = season.lots.find((one) => one.id === mix.intoLotId);
    return lot !== undefined && unmixed.has(lot.id) && mix.on > lot.formedOn && mix.on < date;
  });
}
