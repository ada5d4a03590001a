import { type Context, context } from "../../../core/audit/context.ts";
import { endGrainCents } from "../../../core/audit/end-grain.ts";
import { askedExtractG, bookExtract } from "../../../core/audit/grists.ts";
import { dayNumber } from "../../../core/calendar.ts";
import type { Brew } from "../../../core/season/brewing.ts";
import type { Lot } from "../../../core/season/grain.ts";
import type { Season } from "../../../core/season/season.ts";
import { emptyPlan } from "../empty-plan.ts";

/** What the oracle knows of a season, read with the auditor's eyes and never with the planner's. Weights are kilograms. */
export interface Ground {
  readonly season: Season;
  readonly ctx: Context;
  /** Grain in its bin at as-of, less seed. */
  readonly grain: ReadonlyMap<string, { lot: Lot; storeId: string; massKg: number; seedDay: number | null }>;
  /** Cents that a kilogram of a lot is worth if it still lies there at the plan's end. */
  readonly endCentsPerKg: ReadonlyMap<string, number>;
  /** Kilograms of ready malt below which a malt's reserve is short. */
  readonly floorKg: ReadonlyMap<string, number>;
  /** Brews asked for inside the horizon. */
  readonly brews: readonly Brew[];
}

/** Reads a season, or says why the oracle cannot judge it. */
export async function groundOf(season: Season): Promise<Ground | string> {
  const ctx = context(season, await emptyPlan(season));
  if (ctx.arrivals.length > 0) return "grain comes in, and the oracle does not stow";
  const asked = [...ctx.asked.values()];
  if (asked.some((brew) => brew.tail)) return "tail brews are asked for";
  const grain = new Map<string, { lot: Lot; storeId: string; massKg: number; seedDay: number | null }>();
  for (const lying of season.opening.grain) {
    const seed = season.seedReserves.find((reserve) => reserve.lotId === lying.lotId);
    if (grain.has(lying.lotId)) return "a lot lies in two stores";
    const massKg = (lying.massG - (seed?.massG ?? 0)) / 1000;
    const seedDay = seed === undefined ? null : dayNumber(seed.on);
    grain.set(lying.lotId, { lot: ctx.lots.get(lying.lotId)!, storeId: lying.storeId, massKg, seedDay });
  }
  return {
    season,
    ctx,
    grain,
    endCentsPerKg: new Map(season.lots.map((lot) => [lot.id, endWorth(ctx, lot)])),
    floorKg: new Map(season.maltTypes.map((malt) => [malt.id, malt.reserveFloorG ?? floor(ctx, malt.id)])),
    brews: season.brews.filter((brew) => asked.some((one) => one.id === brew.id)),
  };
}

function endWorth(ctx: Context, lot: Lot): number {
  const massKg = ctx.grain.lotG(lot.id, ctx.planEnd) / 1000;
  return massKg > 0 ? endGrainCents({ ...ctx, season: { ...ctx.season, lots: [lot] } }) / massKg : 0;
}

/** Seven days of the calendar's mean need by the book, in kilograms. */
function floor(ctx: Context, maltId: string): number {
  let needG = 0;
  const days: number[] = [];
  for (const brew of ctx.season.brews) {
    const beer = ctx.beers.get(brew.beerId)!;
    const asked = askedExtractG(ctx, beer, brew.volumeL ?? beer.volumeL);
    for (const { id, ingredient } of beer.grist) {
      if (ingredient.kind !== "malt" || ingredient.maltId !== maltId) continue;
      needG += asked.get(id)! / bookExtract(ctx, ingredient);
      days.push(dayNumber(brew.on));
    }
  }
  return days.length === 0 ? 0 : needG / (Math.max(...days) - Math.min(...days) + 1) * 7 / 1000;
}
