/** A lot's clock for a malt: from which day it may be steeped, until which, and what else keeps it out. */
import { dayNumber } from "../calendar.ts";
import { lastDayAbove } from "../physics/viability.ts";
import type { Analysis, Lot } from "../season/grain.ts";
import type { Acceptance } from "../season/malthouse.ts";
import { lotsIn } from "./ancestry.ts";
import type { Context, Ground } from "./context.ts";

/** Bounds of the viability equation; grain outside them is taken at the nearer end. */
const MOISTURE_RANGE = [0.05, 0.25] as const;
const TEMP_RANGE = [-20, 90] as const;

/**
 * Most deoxynivalenol in raw grain for the mash, mg/kg: the US Food and Drug Administration's advisory level for finished wheat
 * products for people (2010), taken for the grain itself, as nothing is cleaned out of it on the way into the mash.
 */
export const RAW_DON_PPM_MOST = 1;

/** Numbers that an analysis may hold. */
export type Measured = "germinativeEnergy" | "germinativeCapacity" | "proteinDb" | "plump" | "donPpm";

/** Results of one quantity, oldest first. */
export function results(lot: Lot, quantity: Measured): { readonly day: number; readonly value: number }[] {
  return lot.analyses.flatMap((analysis) => {
    const value = analysis[quantity];
    return value === undefined || analysis.resultOn === undefined
      ? []
      : [{ day: dayNumber(analysis.resultOn), value }];
  }).sort((a, b) => a.day - b.day);
}

/** The latest measured value of a quantity, or undefined when it was never measured. */
export function latest(lot: Lot, quantity: Measured): number | undefined {
  return results(lot, quantity).at(-1)?.value;
}

/** What a lot's results and dates allow. */
export interface LotClock {
  /** First day awake; Infinity when nothing says that it will wake. */
  readonly awakeDay: number;
  /** Last day it may be steeped; Infinity without a limit. */
  readonly lastDay: number;
  /** True when a good energy was followed by one that fails. */
  readonly spent: boolean;
  /** The day from which a run may be proposed while results are awaited; -Infinity when none is, Infinity for never. */
  readonly awaitedDay: number;
}

function awakeDay(ctx: Context, lot: Lot, least: number): number {
  const passed = results(lot, "germinativeEnergy").find((result) => result.value >= least);
  if (passed !== undefined) return passed.day;
  if (lot.wakesOn !== undefined) return dayNumber(lot.wakesOn.late);
  if (!lot.forecast) return Infinity;
  const rested = ctx.arrivals.flatMap(({ lotId, day, planting }) =>
    lotId === lot.id && planting !== undefined ? [day + planting.restAfterHarvestDays.late] : []
  );
  return rested.length === 0 ? Infinity : Math.max(...rested);
}

function within(value: number, [least, most]: readonly [number, number]): number {
  return Math.min(Math.max(value, least), most);
}

function viableUntil(ctx: Context, lot: Lot, least: number): number {
  const measured = results(lot, "germinativeCapacity").at(-1) ?? results(lot, "germinativeEnergy").at(-1);
  const storeId = ctx.grain.firstStore(lot.id);
  const store = (storeId === undefined ? undefined : ctx.stores.get(storeId)) ?? ctx.season.stores[0];
  if (measured === undefined || store === undefined || least <= 0) return Infinity;
  if (measured.value < least || measured.value <= 0 || least >= 1) return measured.day - 1;
  const limitDay = Math.max(ctx.planEnd + 1, measured.day);
  const last = lastDayAbove(
    measured.day,
    measured.value,
    least,
    within(lot.moistureWb, MOISTURE_RANGE),
    store.monthTempC.map((tempC) => within(tempC, TEMP_RANGE)),
    lot.crop,
    limitDay,
  );
  return last >= limitDay ? Infinity : last;
}

function awaitedDay(analyses: readonly Analysis[]): number {
  const awaited = analyses.filter((analysis) => analysis.resultOn === undefined);
  return awaited.reduce(
    (day, { expectedOn }) => expectedOn === undefined ? Infinity : Math.max(day, dayNumber(expectedOn)),
    -Infinity,
  );
}

/** The clock of a lot under a malt's acceptance. */
export function lotClock(ctx: Context, lot: Lot, acceptance: Acceptance): LotClock {
  const least = acceptance.germinativeEnergyLeast;
  const energies = results(lot, "germinativeEnergy");
  const last = energies.at(-1);
  const useBy = lot.useBy === undefined ? Infinity : dayNumber(lot.useBy.on);
  return {
    awakeDay: awakeDay(ctx, lot, least),
    lastDay: Math.min(useBy, viableUntil(ctx, lot, acceptance.germinationAtSteepLeast)),
    spent: last !== undefined && last.value < least && energies.some((result) => result.value >= least),
    awaitedDay: awaitedDay(lot.analyses),
  };
}

/** Deoxynivalenol that counts against a lot: the worst latest result of all grain in it, as mixing makes nothing good. */
export function donPpm(ground: Pick<Ground, "season" | "lots">, lotId: string): number | undefined {
  const values = [...lotsIn(ground, lotId)].flatMap((id) => {
    const lot = ground.lots.get(id);
    return (lot === undefined ? undefined : latest(lot, "donPpm")) ?? [];
  });
  return values.length === 0 ? undefined : Math.max(...values);
}

/** True for dressed seed and for every lot with some of it in. */
export function holdsTreatedSeed(ground: Pick<Ground, "season" | "lots">, lotId: string): boolean {
  return [...lotsIn(ground, lotId)].some((id) => ground.lots.get(id)?.treatedSeed === true);
}

/** What a lot's results fail of a malt's limits, in words; empty when it passes. Unmeasured values are not held against it. */
export function failures(ctx: Context, lot: Lot, acceptance: Acceptance): string[] {
  const don = donPpm(ctx, lot.id), protein = latest(lot, "proteinDb"), plump = latest(lot, "plump");
  const failed: string[] = [];
  if (don !== undefined && don > acceptance.donPpmMost) {
    failed.push(`deoxynivalenol ${don} mg/kg, at most ${acceptance.donPpmMost}`);
  }
  if (protein !== undefined && acceptance.proteinDbMost !== undefined && protein > acceptance.proteinDbMost) {
    failed.push(`protein ${protein} dry basis, at most ${acceptance.proteinDbMost}`);
  }
  if (plump !== undefined && acceptance.plumpLeast !== undefined && plump < acceptance.plumpLeast) {
    failed.push(`plump corns ${plump}, at least ${acceptance.plumpLeast}`);
  }
  return failed;
}

/** True when the owner lets the farm malt it: the farm's own grain, or a lot that a malt contract lists. */
export function ownerAllows(ctx: Context, lot: Lot): boolean {
  return lot.owner === "farm" ||
    ctx.season.contracts.some((contract) =>
      contract.kind === "sell-malt" && contract.lotIds?.includes(lot.id) === true
    );
}
