import { type Context, context } from "../../../core/audit/context.ts";
import { endGrainCents } from "../../../core/audit/end-grain.ts";
import { askedExtractG, bookExtract } from "../../../core/audit/grists.ts";
import { dayNumber, isoDate } from "../../../core/calendar.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { Brew } from "../../../core/season/brewing.ts";
import type { Lot } from "../../../core/season/grain.ts";
import type { Season } from "../../../core/season/season.ts";
import { emptyPlan } from "../empty-plan.ts";
import { type Granary, granaryOf } from "./granary.ts";

/** What the oracle knows of a season, read with the auditor's eyes and never with the planner's. Weights are kilograms. */
export interface Ground extends Granary {
  readonly season: Season;
  /** A plan in which nothing is done but that all grain that comes is binned, and its context. */
  readonly bare: Plan;
  readonly ctx: Context;
  /** Cents that a kilogram of a lot is worth if it still lies there at the plan's end. */
  readonly endCentsPerKg: ReadonlyMap<string, number>;
  /** Kilograms of ready malt below which a malt's reserve is short. */
  readonly floorKg: ReadonlyMap<string, number>;
  /** Brews asked for inside the horizon. */
  readonly brews: readonly Brew[];
}

/** Reads a season, or says why the oracle cannot judge it. */
export async function groundOf(season: Season): Promise<Ground | string> {
  const empty = await emptyPlan(season);
  const { arrivals } = context(season, empty);
  const bare: Plan = {
    ...empty,
    fills: arrivals.map(({ lotId, day, massG }) => ({
      on: isoDate(day),
      lotId,
      storeId: season.stores.at(-1)!.id,
      massG,
    })),
  };
  const ctx = context(season, bare);
  const granary = granaryOf(ctx);
  if (typeof granary === "string") return granary;
  const asked = [...ctx.asked.values()];
  if (asked.some((brew) => brew.tail)) return "tail brews are asked for";
  return {
    ...granary,
    season,
    bare,
    ctx,
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
