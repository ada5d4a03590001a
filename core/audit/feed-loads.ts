/** Feed loads: day, weight, number, crop, owner, safety and price. */
import { dayNumber, weekday } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { FeedPickup } from "../season/brewing.ts";
import { G_PER_TONNE } from "../units.ts";
import { type Breach, breach, type RuleId } from "./breach.ts";
import type { Context } from "./context.ts";
import { donPpm, holdsTreatedSeed } from "./lot-clock.ts";
import { dayWords, massWords, moneyWords } from "./words.ts";

function oneLoad(ctx: Context, load: Plan["feedLoads"][number], pickup: FeedPickup): Breach[] {
  const day = dayNumber(load.on), massG = load.items.reduce((sum, item) => sum + item.massG, 0);
  const found: Breach[] = [];
  const say = (rule: RuleId, what: string, limit: string, reason: string) =>
    found.push(breach(rule, load.id, day, what, limit, `Feed load ${load.id} ${reason}`));
  const inside = dayNumber(pickup.from) <= day && day <= dayNumber(pickup.to);
  if (!inside || !pickup.weekdays.includes(weekday(day))) {
    const limit = `${pickup.from} to ${pickup.to}, on its weekdays`;
    say("feed-day", dayWords(day), limit, `lies on ${dayWords(day)}; ${pickup.buyer} fetches ${limit}.`);
  }
  if (massG < pickup.leastG || massG > pickup.greatestG) {
    const limit = `${massWords(pickup.leastG)} to ${massWords(pickup.greatestG)}`;
    say("feed-weight", massWords(massG), limit, `weighs ${massWords(massG)}; a load is ${limit}.`);
  }
  for (const lotId of new Set(load.items.map((item) => item.lotId))) {
    const lot = ctx.lots.get(lotId);
    if (lot === undefined) continue;
    if (!pickup.crops.includes(lot.crop)) {
      say(
        "feed-crop",
        lot.crop,
        pickup.crops.join(", "),
        `holds ${lot.crop}, which the buyer does not take.`,
      );
    }
    if (lot.owner !== "farm") {
      // A contract that lists the lot has its malt made; no contract gives the farm somebody else's grain to sell as feed.
      say("feed-owner", lot.owner, "farm", `holds lot ${lotId}, which belongs to ${lot.owner}.`);
    }
    if (holdsTreatedSeed(ctx, lotId)) {
      say("feed-treated", "treated seed", "untreated", `holds lot ${lotId}, which is treated seed.`);
    }
    const don = donPpm(ctx, lotId);
    if (don !== undefined && don > pickup.donPpmMost) {
      const limit = `${pickup.donPpmMost} mg/kg`;
      say(
        "feed-toxin",
        `${don} mg/kg`,
        limit,
        `holds lot ${lotId} with ${don} mg/kg of deoxynivalenol; at most ${limit}.`,
      );
    }
  }
  const cents = massG / G_PER_TONNE * pickup.perTonneCents - pickup.haulageCents;
  if (Math.abs(load.revenueCents - cents) > 1) {
    const is = moneyWords(load.revenueCents, ctx.season.currency);
    const should = moneyWords(Math.round(cents), ctx.season.currency);
    say("feed-revenue", is, should, `brings ${is} in the plan; price less haulage is ${should}.`);
  }
  return found;
}

function counts(ctx: Context): Breach[] {
  return ctx.season.feedPickups.flatMap((pickup) => {
    const planned = ctx.plan.feedLoads.filter((load) => load.pickupId === pickup.id);
    const recorded = ctx.season.records.feedLoads.filter((load) => load.pickupId === pickup.id).length;
    const count = planned.length + recorded;
    if (planned.length === 0 || count <= pickup.mostLoads) return [];
    const message = `${count} loads are fetched under ${pickup.id}; it offers ${pickup.mostLoads}.`;
    return [breach("feed-count", pickup.id, null, `${count} loads`, `${pickup.mostLoads} loads`, message)];
  });
}

/** Every feed load and every pick-up. */
export function feedLoads(ctx: Context): Breach[] {
  const loads = ctx.plan.feedLoads.flatMap((load) => {
    const pickup = ctx.pickups.get(load.pickupId);
    return pickup === undefined ? [] : oneLoad(ctx, load, pickup);
  });
  return [...loads, ...counts(ctx)];
}
