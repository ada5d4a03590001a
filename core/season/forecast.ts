import { dateOf, dayNumber } from "../calendar.ts";
import { intakeClean, massAtMoisture } from "../physics/shrink.ts";
import type { Planting } from "./land.ts";
import type { Season } from "./season.ts";
import { planEndDay } from "./tail.ts";

const M2_PER_HA = 10_000;
const G_PER_KG = 1000;

/** Grain that is still to come, all of one lot on one day. Weights are grams as in bin. */
export interface ForecastFill {
  readonly lotId: string;
  /** Day number on which it comes. */
  readonly day: number;
  readonly massG: number;
  /** The plantings that are cut for it; empty for a contract. */
  readonly plantingIds: readonly string[];
  /** The contract that brings it, if it is bought. */
  readonly contractId?: string;
}

/**
 * Whole grams that a planting's likely yield leaves in the bin: weight cut, less handling loss, dried (never wetted) to
 * the moisture asked for, less what the intake clean takes out.
 */
export function forecastMassG(planting: Planting): number {
  const cutKg = planting.areaM2 / M2_PER_HA * planting.yieldKgPerHa.likely;
  const handledKg = cutKg * (1 - planting.handlingLoss);
  const storedWb = Math.min(planting.moistureAtHarvestWb, planting.dryToWb);
  const driedKg = massAtMoisture(handledKg, planting.moistureAtHarvestWb, storedWb);
  return Math.round(intakeClean(driedKg, planting.intakeCleaningLoss) * G_PER_KG);
}

/** Day number of a planting's likely harvest; one that should be over already is expected on the day after `asOf`. */
export function forecastHarvestDay(planting: Planting, asOf: string): number {
  const today = dayNumber(dateOf(asOf));
  const likely = dayNumber(planting.harvest.likely);
  return likely < today ? today + 1 : likely;
}

/** Plantings whose grain is still to come into a lot that nobody has weighed yet. */
export function plantingsToCome(season: Season, lotId: string): Planting[] {
  const lot = season.lots.find((one) => one.id === lotId);
  if (lot === undefined || !lot.forecast) return [];
  return season.plantings.filter((planting) =>
    planting.lotId === lotId && (planting.state === "planned" || planting.state === "sown")
  );
}

/**
 * Everything that will come in from `asOf` to the end of the plan: harvests of forecast lots and grain bought under
 * contract, by day and lot. Grain under a contract whose day is past is a matter of records, and so left out here.
 */
export function forecastFills(season: Season, asOf: string): ForecastFill[] {
  const fills = [...harvestFills(season, asOf), ...contractFills(season, asOf)];
  const planEnd = planEndDay(season);
  return fills.filter((fill) => fill.day <= planEnd)
    .sort((a, b) => a.day - b.day || (a.lotId < b.lotId ? -1 : a.lotId > b.lotId ? 1 : 0));
}

function harvestFills(season: Season, asOf: string): ForecastFill[] {
  const fills = new Map<string, { lotId: string; day: number; massG: number; plantingIds: string[] }>();
  for (const lot of season.lots) {
    for (const planting of plantingsToCome(season, lot.id)) {
      const day = forecastHarvestDay(planting, asOf);
      const key = `${lot.id} ${day}`;
      const fill = fills.get(key) ?? { lotId: lot.id, day, massG: 0, plantingIds: [] };
      fill.massG += forecastMassG(planting);
      fill.plantingIds.push(planting.id);
      fills.set(key, fill);
    }
  }
  return [...fills.values()];
}

function contractFills(season: Season, asOf: string): ForecastFill[] {
  const today = dateOf(asOf);
  return season.contracts.flatMap((contract) => {
    if (contract.kind !== "buy-grain" || contract.on < today) return [];
    // What came this morning is in the records already and must not come twice.
    const arrived = season.records.fills.some((fill) =>
      fill.lotId === contract.lotId && fill.on === contract.on
    );
    if (arrived) return [];
    const day = dayNumber(contract.on);
    return [{ lotId: contract.lotId, day, massG: contract.massG, plantingIds: [], contractId: contract.id }];
  });
}
