/** Everything that is asked for has its answer, once. */
import { dayNumber } from "../calendar.ts";
import type { Contract } from "../season/brewing.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { grainDueG, maltDueG } from "./firm-dates.ts";

/** How often each id occurs. */
function countById(ids: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const id of ids) counts.set(id, (counts.get(id) ?? 0) + 1);
  return counts;
}

function brews(ctx: Context): Breach[] {
  const { plan, asked } = ctx;
  const counts = countById([...plan.brews, ...plan.unbrewed].map((brew) => brew.id));
  const found: Breach[] = [];
  for (const brew of asked.values()) {
    if (counts.has(brew.id)) continue;
    const message = `Brew ${brew.id} is asked for, but the plan neither makes it nor lists it as unbrewed.`;
    found.push(breach("brew-missing", brew.id, brew.latestDay, "left out", "made or unbrewed", message));
  }
  for (const [id, count] of counts) {
    if (!asked.has(id)) {
      const message = `Brew ${id} stands in the plan, but nobody asks for it: ` +
        `it is no brew of the calendar or its tail that is still to be made.`;
      found.push(breach("brew-not-asked", id, null, "in the plan", "not asked for", message));
    }
    if (count > 1) {
      const message = `Brew ${id} stands ${count} times in the plan, made and unbrewed counted together.`;
      found.push(breach("brew-twice", id, null, `${count} times`, "once", message));
    }
  }
  for (const { id, beerId } of plan.unbrewed) {
    const should = asked.get(id)?.beerId;
    if (should === undefined || should === beerId) continue;
    const message = `The unbrewed ${id} is called ${beerId}; the calendar says ${should}.`;
    found.push(breach("brew-beer", id, null, beerId, should, message));
  }
  return found;
}

/** True when a malt contract has to be answered inside the horizon: its window is not over, and something is still due. */
export function maltIsAsked(ctx: Context, contract: Contract): boolean {
  return contract.kind === "sell-malt" && dayNumber(contract.to) >= ctx.asOfDay &&
    dayNumber(contract.from) <= ctx.horizonEnd && maltDueG(ctx, contract) > 0;
}

function isAsked(ctx: Context, contract: Contract): boolean {
  if (contract.kind === "buy-grain") return false;
  if (contract.kind === "sell-malt") return maltIsAsked(ctx, contract);
  return grainDueG(ctx, contract) > 0 && dayNumber(contract.from) <= ctx.planEnd;
}

function contracts(ctx: Context): Breach[] {
  const { plan } = ctx;
  const grain = new Set(plan.grainDeliveries.map((item) => item.contractId));
  // A grain delivery may come from several stores, so it counts once; a malt delivery is one entry.
  const counts = countById([
    ...grain,
    ...plan.maltDeliveries.map((item) => item.contractId),
    ...plan.unsold.map((item) => item.contractId),
  ]);
  const found: Breach[] = [];
  for (const contract of ctx.season.contracts) {
    const count = counts.get(contract.id) ?? 0;
    if (count > 1) {
      const message =
        `The contract ${contract.id} is answered ${count} times, deliveries and unsold together.`;
      found.push(breach("contract-twice", contract.id, null, `${count} times`, "once", message));
    }
    if (count === 0 && isAsked(ctx, contract)) {
      const message = `The contract ${contract.id} is neither delivered nor listed as unsold.`;
      found.push(breach("contract-missing", contract.id, null, "left out", "delivered or unsold", message));
    }
  }
  return found;
}

/** Every brew and every contract. */
export function completeness(ctx: Context): Breach[] {
  return [...brews(ctx), ...contracts(ctx)];
}
