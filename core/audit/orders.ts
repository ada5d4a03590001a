/** Orders of malt and bagged grain. */
import { dayNumber, weekday } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import { type Breach, breach, type RuleId } from "./breach.ts";
import type { Context } from "./context.ts";
import { dayWords, massWords, moneyWords } from "./words.ts";

type Order = Plan["orders"][number];

function oneOrder(ctx: Context, order: Order): Breach[] {
  const offer = ctx.offers.get(order.offerId);
  // A recorded order is a fact; the plan repeats it at most.
  if (offer === undefined || ctx.recordedOrders.has(order.id)) return [];
  const day = dayNumber(order.orderedOn), arrives = dayNumber(order.arrivesOn);
  const found: Breach[] = [];
  const say = (rule: RuleId, what: string, limit: string, reason: string) =>
    found.push(breach(rule, order.id, day, what, limit, `Order ${order.id} ${reason}`));
  const inside = dayNumber(offer.from) <= day && day <= dayNumber(offer.to);
  if (!inside || !offer.orderWeekdays.includes(weekday(day))) {
    const limit = `${offer.from} to ${offer.to}, on its weekdays`;
    say(
      "order-day",
      dayWords(day),
      limit,
      `is placed on ${dayWords(day)}; ${offer.supplier} takes orders ${limit}.`,
    );
  }
  if (order.packs < offer.leastPacks) {
    say(
      "order-packs",
      `${order.packs}`,
      `${offer.leastPacks}`,
      `has ${order.packs} of ${offer.leastPacks} packs.`,
    );
  }
  const due = day + offer.leadDays;
  if (arrives !== due) {
    say(
      "order-arrival",
      dayWords(arrives),
      dayWords(due),
      `arrives on ${dayWords(arrives)}; with ${offer.leadDays} days to come that is ${dayWords(due)}.`,
    );
  }
  const massG = order.packs * offer.packG, best = arrives + offer.shelfLifeDays;
  const cents = order.packs * offer.packCents + offer.freightCents;
  if (order.massG !== massG) {
    const is = massWords(order.massG), should = massWords(massG);
    say("order-figures", is, should, `weighs ${is} in the plan; its packs weigh ${should}.`);
  }
  if (dayNumber(order.bestBefore) !== best) {
    say(
      "order-figures",
      order.bestBefore,
      dayWords(best),
      `is best before ${dayWords(best)}, not ${order.bestBefore}.`,
    );
  }
  if (order.costCents !== cents) {
    const is = moneyWords(order.costCents, ctx.season.currency),
      should = moneyWords(cents, ctx.season.currency);
    say("order-figures", is, should, `costs ${is} in the plan; packs and freight are ${should}.`);
  }
  return found;
}

/** Every order of the plan. */
export function orders(ctx: Context): Breach[] {
  return ctx.plan.orders.flatMap((order) => oneOrder(ctx, order));
}
