/** Weights of lots: nothing is taken that is not there, and all that comes is binned or left out. */
import { dayNumber } from "../calendar.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { heldG } from "./grain-book.ts";
import { dayWords, massWords } from "./words.ts";

function overdrawn(ctx: Context): Breach[] {
  return ctx.grain.holdings.flatMap((holding) => {
    const takings = holding.events.filter((event) => event.planned && event.deltaG < 0);
    const day = takings.find((event) => heldG(holding, event.day) < 0)?.day;
    if (day === undefined) return [];
    const { lotId, storeId } = holding, left = heldG(holding, day);
    const message = `On ${dayWords(day)} store ${storeId} would hold ${massWords(left)} of lot ${lotId}: ` +
      `${massWords(-left)} more is taken than lies there.`;
    return [breach("lot-overdrawn", lotId, day, massWords(left), "0 kg or more", message)];
  });
}

function arrivals(ctx: Context): Breach[] {
  const sums = new Map<string, { lotId: string; day: number; comes: number; placed: number }>();
  const at = (lotId: string, day: number) => {
    const key = `${lotId} ${day}`;
    let sum = sums.get(key);
    if (sum === undefined) sums.set(key, sum = { lotId, day, comes: 0, placed: 0 });
    return sum;
  };
  for (const arrival of ctx.arrivals) at(arrival.lotId, arrival.day).comes += arrival.massG;
  for (const item of [...ctx.plan.fills, ...ctx.plan.leftOut]) {
    at(item.lotId, dayNumber(item.on)).placed += item.massG;
  }
  return [...sums.values()].filter(({ comes, placed }) => comes !== placed).map(
    ({ lotId, day, comes, placed }) => {
      const message = `${massWords(comes)} of lot ${lotId} comes on ${dayWords(day)}, ` +
        `but ${massWords(placed)} is binned or left out on that day.`;
      return breach("lot-arrival", lotId, day, massWords(placed), massWords(comes), message);
    },
  );
}

/** Stocks and arrivals of every lot. */
export function lotWeights(ctx: Context): Breach[] {
  return [...overdrawn(ctx), ...arrivals(ctx)];
}
