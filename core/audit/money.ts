/** The money of a plan, counted again from its parts. */
import { G_PER_TONNE } from "../units.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { endGrainCents } from "./end-grain.ts";
import { extraHoursCents } from "./extra-hours.ts";
import { nightTurns } from "./night-turns.ts";
import { reserveCents } from "./reserve.ts";
import { moneyWords } from "./words.ts";

/** A sum and how many items it has; each may have been rounded to a whole cent. */
interface Sum {
  readonly cents: number;
  readonly items: number;
}

function sum(parts: readonly number[]): Sum {
  return { cents: parts.reduce((all, part) => all + part, 0), items: parts.length };
}

function runs(ctx: Context): Sum {
  return sum([
    ...ctx.runs.filter((view) => view.record === undefined && view.made !== undefined).map(({ run, made }) =>
      made!.runCents + made!.perTonneCents * run.cleanG / G_PER_TONNE
    ),
    ...ctx.plan.drums.map((drum) => {
      const made = ctx.malts.get(drum.maltId)?.made;
      return made?.from === "malt" ? made.runCents : 0;
    }),
  ]);
}

function sales(ctx: Context): Sum {
  const price = (id: string) => {
    const contract = ctx.contracts.get(id);
    return contract === undefined ? 0 : contract.perTonneCents / G_PER_TONNE;
  };
  return sum([
    ...ctx.plan.maltDeliveries.map((delivery) =>
      -delivery.from.reduce((all, item) => all + item.massG, 0) * price(delivery.contractId)
    ),
    ...ctx.plan.grainDeliveries.map((delivery) => -delivery.massG * price(delivery.contractId)),
  ]);
}

/** All parts but the changed runs, which only the accepted plan could count. */
function parts(ctx: Context) {
  const { plan, season } = ctx, { costs } = season;
  const orders = plan.orders.filter((order) => !ctx.recordedOrders.has(order.id));
  return {
    runsCents: runs(ctx),
    ordersCents: sum(orders.map((order) => order.costCents)),
    movesCents: sum(
      plan.moves.map((move) => costs.moveCents + costs.movePerTonneCents * move.massG / G_PER_TONNE),
    ),
    nightTurnsCents: sum(nightTurns(ctx).map((turn) => turn.costCents)),
    extraHoursCents: sum(extraHoursCents(ctx)),
    feedCents: sum(plan.feedLoads.map((load) => -load.revenueCents)),
    salesCents: sales(ctx),
    endGrainCents: { cents: -endGrainCents(ctx), items: season.lots.length },
    reserveCents: { cents: reserveCents(ctx), items: season.maltTypes.length },
  };
}

const PART_NAME = {
  runsCents: "runs",
  ordersCents: "orders",
  movesCents: "moves",
  nightTurnsCents: "night turns",
  extraHoursCents: "extra hours",
  feedCents: "feed",
  salesCents: "sales",
  endGrainCents: "grain left at the end",
  reserveCents: "reserve",
} as const;

function changedRuns({ plan, season }: Context): Breach[] {
  const price = season.costs.changedRunCents, is = plan.goals.money.changedRunsCents;
  if (is >= 0 && (price > 0 ? is % price === 0 : is === 0)) return [];
  const found = moneyWords(is, season.currency);
  const limit = `a multiple of ${moneyWords(price, season.currency)}`;
  const message = `Changed runs cost ${found} in the plan, which is not ${limit}.`;
  return [breach("money-part", "changedRunsCents", null, found, limit, message)];
}

/** Each part, and the total. */
export function money(ctx: Context): Breach[] {
  const stated = ctx.plan.goals.money, { currency } = ctx.season;
  const should = parts(ctx);
  const found: Breach[] = [];
  for (const [part, name] of Object.entries(PART_NAME) as [keyof typeof PART_NAME, string][]) {
    const { cents, items } = should[part];
    if (Math.abs(stated[part] - cents) <= Math.max(1, items)) continue;
    const is = moneyWords(stated[part], currency), limit = moneyWords(Math.round(cents), currency);
    const message = `The plan counts ${is} for ${name}; counted again it is ${limit}.`;
    found.push(breach("money-part", part, null, is, limit, message));
  }
  const total = Object.values(stated).reduce((all, part) => all + part, 0);
  if (total !== ctx.plan.goals.moneyCents) {
    const is = moneyWords(ctx.plan.goals.moneyCents, currency), limit = moneyWords(total, currency);
    const message = `The plan's money is ${is}, but its parts add up to ${limit}.`;
    found.push(breach("money-total", "moneyCents", null, is, limit, message));
  }
  return [...found, ...changedRuns(ctx)];
}
