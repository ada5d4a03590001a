import { auditPlan } from "../../../core/audit/audit.ts";
import { planSchema } from "../../../core/plan/plan.ts";
import { asPlan } from "./as-plan.ts";
import type { Ground } from "./ground.ts";
import type { Best } from "./oracle.ts";

/** What the oracle leaves to whoever compares: counts and money. */
const NOT_STATED = /^(goal|money)-/;
/** Rules that whole grams may miss by a few grams where the oracle's kilograms keep them to the last. */
const ROUNDED = new Set<string>([
  "batch-overdrawn",
  "lot-overdrawn",
  "brew-extract",
  "feed-weight",
  "bin-capacity",
  "run-load",
]);

/**
 * What the auditor has against the oracle's own best; empty when it may be made and comes to what the oracle says. Missing whole
 * grams are no breach. The plan states nothing, so the auditor's complaints about its counts and money are the true ones.
 */
export function doubts(ground: Ground, best: Best): string[] {
  const plan = asPlan(ground, best.chosen);
  const breaches = auditPlan(ground.season, plan);
  const limitOf = (rule: string, thing?: string) =>
    breaches.find((one) => one.rule === rule && (thing === undefined || one.thing === thing))?.limit ?? "0";
  const moneyCents = breaches.filter(({ rule }) => rule === "money-part")
    .reduce((sum, { limit }) => sum + 100 * numberIn(limit), 0);
  const made = best.made.join(", "), counted = limitOf("goal-counts", "made");
  const shape = planSchema.safeParse(plan).error?.issues ?? [];
  return [
    ...shape.map(({ path, message }) => `${path.join(".")}: ${message}`),
    ...breaches.filter(({ rule, found, limit }) =>
      !NOT_STATED.test(rule) && !(ROUNDED.has(rule) && near(found, limit))
    ).map(({ message }) => message),
    ...(counted === made || counted === "0" && made === "0, 0, 0" ? [] : [`made ${counted}, not ${made}`]),
    ...(numberIn(limitOf("goal-promises")) === best.promisesHeld ? [] : ["promises held are miscounted"]),
    ...(Math.abs(moneyCents - best.moneyCents) <= 100 ? [] : [`money is ${Math.round(moneyCents)} cents`]),
  ];
}

/** The number in a phrase such as "1,234.50 EUR". */
function numberIn(phrase: string): number {
  return parseFloat(phrase.replaceAll(",", "").replace("−", "-").replace(/^[^\d-]*/, ""));
}

/** Whether the numbers in two phrases agree to a thousandth. */
function near(found: string, limit: string): boolean {
  const is = parseFloat(found.replaceAll(",", ""));
  return (limit.match(/[\d.,]+/g) ?? []).some((text) => {
    const should = parseFloat(text.replaceAll(",", ""));
    return Math.abs(is - should) <= Math.max(0.02, 1e-3 * should);
  });
}
