/** What grain is worth that lies there when the plan ends and could still be malted. */
import type { Lot } from "../season/grain.ts";
import { G_PER_TONNE } from "../units.ts";
import type { Context } from "./context.ts";
import { donPpm, failures, holdsTreatedSeed, lotClock } from "./lot-clock.ts";

function couldBeMalted(ctx: Context, lot: Lot): boolean {
  // A customer's grain is malted for the customer and is worth nothing to the farm, whatever contract lists it.
  if (lot.owner !== "farm" || lot.use !== "malting" || holdsTreatedSeed(ctx, lot.id)) return false;
  return ctx.season.maltTypes.some(({ made }) => {
    if (made.from !== "grain" || !made.crops.includes(lot.crop)) return false;
    if (failures(ctx, lot, made.acceptance).length > 0) return false;
    const clock = lotClock(ctx, lot, made.acceptance);
    const from = Math.max(clock.awakeDay, clock.awaitedDay, ctx.planEnd + 1);
    return !clock.spent && from < Infinity && from <= clock.lastDay;
  });
}

function bestFeedPrice(ctx: Context, lot: Lot): number {
  const don = donPpm(ctx, lot.id);
  const prices = ctx.season.feedPickups
    .filter((pickup) => pickup.crops.includes(lot.crop) && (don === undefined || don <= pickup.donPpmMost))
    .map((pickup) => pickup.perTonneCents);
  return Math.max(0, ...prices);
}

/** Worth of all such grain in cents, not rounded. */
export function endGrainCents(ctx: Context): number {
  return ctx.season.lots.reduce((sum, lot) => {
    const massG = Math.max(0, ctx.grain.lotG(lot.id, ctx.planEnd));
    return massG > 0 && couldBeMalted(ctx, lot) ? sum + massG / G_PER_TONNE * bestFeedPrice(ctx, lot) : sum;
  }, 0);
}
