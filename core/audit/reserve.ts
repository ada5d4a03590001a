/** What the reserve costs: kilogram-days of ready malt below each malt's floor. */
import { dayNumber } from "../calendar.ts";
import type { MaltType } from "../season/malthouse.ts";
import { G_PER_TONNE } from "../units.ts";
import type { Context } from "./context.ts";
import { askedExtractG, bookExtract } from "./grists.ts";
import { batchG, type BatchView } from "./malt-book.ts";

const WEEK_DAYS = 7;

/** One mean week of what the whole calendar needs of a malt by the book, in grams. */
function meanWeekG(ctx: Context, malt: MaltType): number {
  let needG = 0, first = Infinity, last = -Infinity;
  for (const brew of ctx.season.brews) {
    const beer = ctx.beers.get(brew.beerId);
    const lines = beer?.grist.filter(({ ingredient }) =>
      ingredient.kind === "malt" && ingredient.maltId === malt.id
    ) ?? [];
    if (beer === undefined || lines.length === 0) continue;
    const extractG = askedExtractG(ctx, beer, brew.volumeL ?? beer.volumeL);
    for (const line of lines) {
      const extract = bookExtract(ctx, line.ingredient);
      if (extract > 0) needG += extractG.get(line.id)! / extract;
    }
    first = Math.min(first, dayNumber(brew.on));
    last = Math.max(last, dayNumber(brew.on));
  }
  return first > last ? 0 : needG / (last - first + 1) * WEEK_DAYS;
}

/** Malt with a customer's grain in it goes to the customer alone, so the farm has no reserve in it. */
function ofTheFarm(ctx: Context, { shares }: BatchView): boolean {
  return shares.every(({ lotId }) => (ctx.lots.get(lotId)?.owner ?? "farm") === "farm");
}

/** Gram-days below the floor from the day after as-of to the end of the horizon. */
function shortGramDays(ctx: Context, malt: MaltType): number {
  const floorG = malt.reserveFloorG ?? meanWeekG(ctx, malt);
  const start = ctx.asOfDay + 1, end = ctx.horizonEnd + 1;
  if (!(floorG > 0) || end <= start) return 0;
  // Ready stock changes only on these days, so the days between them are counted in one go.
  const changes = new Map<number, number>([[start, 0]]);
  const change = (day: number, deltaG: number) => {
    const on = Math.max(day, start);
    if (on < end && deltaG !== 0) changes.set(on, (changes.get(on) ?? 0) + deltaG);
  };
  for (const batch of ctx.malt.batches.values()) {
    const { ingredient, held, takings } = batch;
    if (held || ingredient.kind !== "malt" || ingredient.maltId !== malt.id) continue;
    if (!ofTheFarm(ctx, batch)) continue;
    const from = Math.max(batch.readyDay, batch.arriveDay), past = batch.bestDay + 1;
    if (past <= from) continue;
    change(from, batchG(batch, from));
    for (const taking of takings) {
      if (taking.day > from && taking.day < past) change(taking.day, -taking.massG);
    }
    change(past, -batchG(batch, batch.bestDay));
  }
  const days = [...changes].sort(([a], [b]) => a - b);
  let stockG = 0, sum = 0;
  days.forEach(([day, deltaG], place) => {
    stockG += deltaG;
    sum += Math.max(0, floorG - stockG) * ((days[place + 1]?.[0] ?? end) - day);
  });
  return sum;
}

/** Price of all malts' shortfalls against their floors, in cents, not rounded. */
export function reserveCents(ctx: Context): number {
  const malts = ctx.season.maltTypes.filter((malt) =>
    malt.made.from === "grain" || malt.reserveFloorG !== undefined
  );
  const gramDays = malts.reduce((sum, malt) => sum + shortGramDays(ctx, malt), 0);
  return gramDays / G_PER_TONNE * ctx.season.costs.reservePerTonneDayCents;
}
