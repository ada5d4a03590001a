/**
 * The auditor: re-plays a plan against its season with plain arithmetic and lists every breach of the rules. It shares
 * schemas, dates, units and physics with the planner and nothing else, so that one mistake is not made twice.
 */
import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { bookingsKept } from "./bookings.ts";
import type { Breach } from "./breach.ts";
import { brewDays } from "./brews.ts";
import { clocks } from "./clocks.ts";
import { completeness } from "./completeness.ts";
import { type Context, context } from "./context.ts";
import { drumLoads } from "./drums.ts";
import { dryMatter } from "./dry-matter.ts";
import { feedLoads } from "./feed-loads.ts";
import { firmDates } from "./firm-dates.ts";
import { goals } from "./goals.ts";
import { grists } from "./grists.ts";
import { identity } from "./identity.ts";
import { lotWeights } from "./lots.ts";
import { maltStore } from "./malt.ts";
import { money } from "./money.ts";
import { orders } from "./orders.ts";
import { peopleThere } from "./people.ts";
import { runWeights } from "./runs.ts";
import { storesHold } from "./stores.ts";
import { tanksHold } from "./tanks.ts";
import { times } from "./times.ts";
import { vesselsServe } from "./vessels.ts";

export type { Breach } from "./breach.ts";
export { RULES } from "./rules.ts";

const FAMILIES: readonly ((ctx: Context) => Breach[])[] = [
  identity,
  times,
  peopleThere,
  vesselsServe,
  runWeights,
  clocks,
  lotWeights,
  storesHold,
  maltStore,
  drumLoads,
  brewDays,
  grists,
  tanksHold,
  orders,
  feedLoads,
  firmDates,
  bookingsKept,
  completeness,
  dryMatter,
  goals,
  money,
];

/**
 * Every breach of a plan, family by family; empty for a plan that may be shown. Takes a season and a plan that have
 * passed their schemas and never throws. That the plan's hash is the season's is for `verify` to check.
 */
export function auditPlan(season: Season, plan: Plan): Breach[] {
  const ctx = context(season, plan);
  return FAMILIES.flatMap((family) => family(ctx));
}
