/** The goals of a plan, counted again: brews and sales by class, promises held, the tail. */
import { type Breach, breach } from "./breach.ts";
import { maltIsAsked } from "./completeness.ts";
import type { Context } from "./context.ts";
import type { SellMalt } from "./firm-dates.ts";
import { promiseHolds } from "./grists.ts";

function count(ctx: Context) {
  const made = [0, 0, 0], asked = [0, 0, 0];
  const brewed = new Set(ctx.plan.brews.map((brew) => brew.id));
  const sold = new Set(ctx.plan.maltDeliveries.map((delivery) => delivery.contractId));
  const contracts = ctx.season.contracts.filter((contract): contract is SellMalt =>
    maltIsAsked(ctx, contract)
  );
  for (const item of [...[...ctx.asked.values()].filter((brew) => !brew.tail), ...contracts]) {
    asked[item.class - 1]! += 1;
    if (brewed.has(item.id) || sold.has(item.id)) made[item.class - 1]! += 1;
  }
  const inHorizon = ctx.plan.brews.filter((brew) => ctx.asked.get(brew.id)?.tail === false);
  return {
    made,
    asked,
    promisesHeld: inHorizon.filter((brew) => promiseHolds(ctx, brew)).length,
    tailMade: ctx.plan.brews.filter((brew) => ctx.asked.get(brew.id)?.tail === true).length,
  };
}

/** Counts of every goal but money. */
export function goals(ctx: Context): Breach[] {
  const stated = ctx.plan.goals, should = count(ctx);
  const found: Breach[] = [];
  for (const what of ["made", "asked"] as const) {
    const is = stated[what].join(", "), limit = should[what].join(", ");
    if (is === limit) continue;
    const message = `The plan counts ${is} ${what} by class; counted again it is ${limit}.`;
    found.push(breach("goal-counts", what, null, is, limit, message));
  }
  for (const [rule, what] of [["goal-promises", "promisesHeld"], ["goal-tail", "tailMade"]] as const) {
    if (stated[what] === should[what]) continue;
    const name = what === "tailMade" ? "tail brews made" : "promises held";
    const message = `The plan counts ${stated[what]} ${name}; counted again it is ${should[what]}.`;
    found.push(breach(rule, what, null, `${stated[what]}`, `${should[what]}`, message));
  }
  return found;
}
