/** Seed and contracts: agreed weights on agreed days. */
import { dayNumber } from "../calendar.ts";
import type { Contract } from "../season/brewing.ts";
import { maltDeliveries } from "../season/malt-deliveries.ts";
import { type Breach, breach, type RuleId } from "./breach.ts";
import type { Context } from "./context.ts";
import { dayWords, massWords } from "./words.ts";

type SellGrain = Extract<Contract, { kind: "sell-grain" }>;
/** A contract to sell malt. */
export type SellMalt = Extract<Contract, { kind: "sell-malt" }>;

function total(items: readonly { massG: number }[]): number {
  return items.reduce((sum, item) => sum + item.massG, 0);
}

function seed(ctx: Context): Breach[] {
  return ctx.season.seedReserves.flatMap((reserve) => {
    const day = dayNumber(reserve.on);
    const taken = ctx.plan.seedTaken.filter((item) => item.reserveId === reserve.id);
    // Seed of days gone by has left; seed beyond the plan's end is nobody's business yet.
    const due = day >= ctx.asOfDay && day <= ctx.planEnd ? reserve.massG : 0;
    const found: Breach[] = [];
    const say = (what: string, limit: string, reason: string) =>
      found.push(
        breach(
          "seed-taken",
          reserve.id,
          day,
          what,
          limit,
          `Seed ${reserve.id} of lot ${reserve.lotId} ${reason}`,
        ),
      );
    if (total(taken) !== due && !(day > ctx.planEnd && total(taken) === reserve.massG)) {
      const is = massWords(total(taken)), should = massWords(due);
      say(is, should, `takes ${is} in the plan; ${should} is due.`);
    }
    for (const item of taken) {
      if (item.lotId !== reserve.lotId) say(item.lotId, reserve.lotId, `is taken from lot ${item.lotId}.`);
      if (dayNumber(item.on) !== day) {
        say(item.on, reserve.on, `is taken on ${item.on}, not on ${reserve.on}.`);
      }
    }
    return found;
  });
}

/** Weight of a sell-grain contract that is still to be delivered at as-of; 0 when its window is over. */
export function grainDueG(ctx: Context, contract: SellGrain): number {
  if (dayNumber(contract.to) < ctx.asOfDay) return 0;
  const done = ctx.season.records.deliveries.filter((item) => item.contractId === contract.id);
  return Math.max(0, contract.massG - total(done));
}

/** Weight of a sell-malt contract that no record has delivered yet, from whatever batch and on whatever day. */
export function maltDueG({ season }: Context, contract: SellMalt): number {
  const gone = maltDeliveries(season).filter((one) => one.contractId === contract.id);
  return Math.max(0, contract.massG - total(gone));
}

/** Says what is wrong with a delivery under a contract. */
type Say = (day: number | null, what: string, limit: string, reason: string) => void;

function saying(found: Breach[], rule: RuleId, contract: SellGrain | SellMalt): Say {
  return (day, what, limit, reason) => {
    const message = `The delivery to ${contract.party} under ${contract.id} ${reason}`;
    found.push(breach(rule, contract.id, day, what, limit, message));
  };
}

function window(say: Say, contract: SellGrain | SellMalt, day: number): void {
  if (day >= dayNumber(contract.from) && day <= dayNumber(contract.to)) return;
  say(
    day,
    dayWords(day),
    `${contract.from} to ${contract.to}`,
    `lies outside ${contract.from} to ${contract.to}.`,
  );
}

function sold(ctx: Context, contract: SellGrain): Breach[] {
  const parts = ctx.plan.grainDeliveries.filter((item) => item.contractId === contract.id);
  if (parts.length === 0) return [];
  const found: Breach[] = [], say = saying(found, "grain-contract", contract);
  const due = grainDueG(ctx, contract);
  if (total(parts) !== due) {
    say(
      dayNumber(parts[0]!.on),
      massWords(total(parts)),
      massWords(due),
      `is ${massWords(total(parts))} of ${massWords(due)}.`,
    );
  }
  for (const part of parts) {
    window(say, contract, dayNumber(part.on));
    if (part.lotId !== contract.lotId) {
      say(dayNumber(part.on), part.lotId, contract.lotId, `is from lot ${part.lotId}.`);
    }
  }
  return found;
}

function soldMalt(ctx: Context, contract: SellMalt): Breach[] {
  const found: Breach[] = [], say = saying(found, "malt-contract", contract);
  const dueG = maltDueG(ctx, contract);
  for (const delivery of ctx.plan.maltDeliveries.filter((item) => item.contractId === contract.id)) {
    const day = dayNumber(delivery.on), massG = total(delivery.from);
    window(say, contract, day);
    if (dueG === 0) {
      say(day, massWords(massG), massWords(dueG), "stands in the plan, but nothing is due.");
    } else if (massG !== dueG) {
      say(day, massWords(massG), massWords(dueG), `is ${massWords(massG)} of ${massWords(dueG)}.`);
    }
    for (const { batchId } of delivery.from) {
      const batch = ctx.malt.batches.get(batchId);
      if (batch === undefined) continue;
      const { ingredient, shares } = batch;
      if (ingredient.kind !== "malt" || ingredient.maltId !== contract.maltId) {
        say(day, batchId, contract.maltId, `holds batch ${batchId}, which is no ${contract.maltId}.`);
      }
      const { lotIds } = contract;
      const other = lotIds !== undefined &&
        (shares.length === 0 || shares.some(({ lotId }) => !lotIds.includes(lotId)));
      if (other) {
        say(
          day,
          batchId,
          lotIds.join(", "),
          `holds batch ${batchId}, which is not made from the customer's lots alone.`,
        );
      }
    }
  }
  return found;
}

/** Seed, sold grain and sold malt. */
export function firmDates(ctx: Context): Breach[] {
  const contracts = ctx.season.contracts.flatMap((contract) => {
    if (contract.kind === "sell-grain") return sold(ctx, contract);
    return contract.kind === "sell-malt" ? soldMalt(ctx, contract) : [];
  });
  return [...seed(ctx), ...contracts];
}
