import { dayNumber, yearOf } from "../calendar.ts";
import { intakeClean } from "../physics/shrink.ts";
import { forecastHarvestDay, forecastMassG, plantingsToCome } from "../season/forecast.ts";
import type { Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";
import type { BreakMark, FieldsBand, PlantingMark, Spread } from "./fields-band.ts";
import { nodeId } from "./graph.ts";
import type { Journal } from "./journal.ts";

const M2_PER_HA = 10_000;
/** What stands on this day of its harvest year has come through the winter: common practice, no source. */
const WINTER_ENDS = "04-01";

/** The fields band: every planting, and the fields that carry no grain in a harvest year that is shown. */
export function fieldsBand(journal: Journal): FieldsBand {
  const { season } = journal;
  return {
    plantings: season.plantings.map((planting) => plantingMark(journal, planting)),
    breaks: breaksOf(season, journal),
  };
}

/** Weight of a planting as cut, in grams, in a bad, likely and good year. */
export function forecastCutG(planting: Planting): Spread {
  const cut = (kgPerHa: number) => planting.areaM2 / M2_PER_HA * kgPerHa * 1000;
  const { bad, likely, good } = planting.yieldKgPerHa;
  return { bad: cut(bad), likely: cut(likely), good: cut(good) };
}

function plantingMark(journal: Journal, planting: Planting): PlantingMark {
  const { season } = journal;
  const tickets = season.weighTickets.filter((one) => one.plantingId === planting.id);
  const days = tickets.map((one) => dayNumber(one.on));
  const lotId = tickets[0]?.lotId ?? planting.lotId;
  const weighed = tickets.length > 0;
  const winterEnds = dayNumber(`${planting.harvestYear}-${WINTER_ENDS}`);
  const standing = planting.state === "planned" || planting.state === "sown";
  const binG = weighed ? even(binnedG(planting, tickets)) : forecastBinG(planting);
  return {
    id: planting.id,
    node: nodeId("planting", planting.id),
    fieldNames: planting.fieldIds.map((id) => season.fields.find((one) => one.id === id)?.name ?? id),
    areaM2: planting.areaM2,
    crop: planting.crop,
    sowingSeason: planting.sowingSeason,
    harvestYear: planting.harvestYear,
    state: planting.state,
    drillDay: dayNumber(planting.drillOn),
    atRiskUntil: standing && planting.sowingSeason === "winter" && journal.asOfDay < winterEnds
      ? winterEnds
      : null,
    harvest: {
      early: dayNumber(planting.harvest.early),
      likely: dayNumber(planting.harvest.likely),
      late: dayNumber(planting.harvest.late),
    },
    cut: weighed ? { from: Math.min(...days), to: Math.max(...days) } : null,
    cutG: weighed ? even(tickets.reduce((sum, one) => sum + one.massG, 0)) : forecastCutG(planting),
    binG,
    weighed,
    leftOutG: weighed ? 0 : Math.min(binG.likely, leftOutG(journal, planting)),
    lotId,
    letter: season.lots.find((one) => one.id === lotId)?.letter ?? "",
    lotNode: nodeId("lot", lotId),
  };
}

/** What the plan finds no store for of a planting: its share, by likely weight, of what its lot leaves out on its day. */
function leftOutG({ season, plan }: Journal, planting: Planting): number {
  if (plan === null) return 0;
  // The plan dated what comes by its own as-of.
  const dayOf = (one: Planting) => forecastHarvestDay(one, plan.asOf);
  const together = plantingsToCome(season, planting.lotId).filter((one) => dayOf(one) === dayOf(planting));
  if (!together.includes(planting)) return 0;
  const comesG = together.reduce((sum, one) => sum + forecastMassG(one), 0);
  const leftG = plan.leftOut
    .filter((one) => one.lotId === planting.lotId && dayNumber(one.on) === dayOf(planting))
    .reduce((sum, one) => sum + one.massG, 0);
  return comesG === 0 ? 0 : Math.round(leftG * forecastMassG(planting) / comesG);
}

function even(massG: number): Spread {
  return { bad: massG, likely: massG, good: massG };
}

function forecastBinG(planting: Planting): Spread {
  const binned = (kgPerHa: number) =>
    forecastMassG({ ...planting, yieldKgPerHa: { ...planting.yieldKgPerHa, likely: kgPerHa } });
  const { bad, likely, good } = planting.yieldKgPerHa;
  return { bad: binned(bad), likely: binned(likely), good: binned(good) };
}

/** What weighed loads leave in the bin by the planting's own losses. */
function binnedG(
  planting: Planting,
  tickets: readonly { massG: number; moistureWb: number }[],
): number {
  return tickets.reduce((sum, ticket) => {
    const handledG = ticket.massG * (1 - planting.handlingLoss);
    const driedG = handledG * (1 - ticket.moistureWb) / (1 - Math.min(ticket.moistureWb, planting.dryToWb));
    return sum + intakeClean(driedG, planting.intakeCleaningLoss);
  }, 0);
}

function breaksOf(season: Season, { firstDay, lastDay }: Journal): BreakMark[] {
  const shown = (year: number) => year >= yearOf(firstDay) && year <= yearOf(lastDay) + 1;
  return season.fields.flatMap((field) =>
    field.cropHistory
      .filter((one) => shown(one.year) && !isPlanted(season, field.id, one.year))
      .map((one) => ({
        fieldId: field.id,
        fieldName: field.name,
        areaM2: field.areaM2,
        harvestYear: one.year,
        crop: one.crop,
        from: dayNumber(`${one.year - 1}-09-01`),
        to: dayNumber(`${one.year}-08-31`),
      }))
      .filter((one) => one.to >= firstDay && one.from <= lastDay)
  );
}

function isPlanted(season: Season, fieldId: string, year: number): boolean {
  return season.plantings.some((one) => one.harvestYear === year && one.fieldIds.includes(fieldId));
}
