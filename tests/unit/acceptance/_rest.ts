import { context } from "../../../core/audit/context.ts";
import { endGrainCents } from "../../../core/audit/end-grain.ts";
import { nightTurns } from "../../../core/audit/night-turns.ts";
import { reserveCents } from "../../../core/audit/reserve.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import { seasonHash } from "../../../core/season/canonical.ts";
import type { Season } from "../../../core/season/season.ts";
import { allBrewsToPlan } from "../../../core/season/tail.ts";
import { reopenAt } from "../../../core/year/reopen.ts";

/** A season stopped on a later day, and what was then still to come of its plan. */
export interface Rest {
  readonly season: Season;
  readonly plan: Plan;
}

/**
 * Stops a plan at 00:00 of `date`, enters that day's state as an opening position, and leaves of the plan what lies after it, its
 * goals counted anew. The plan's next days would be held days; here they are free, or the new plan could not have them.
 */
export async function restOf(season: Season, plan: Plan, date: string): Promise<Rest> {
  const reopened = reopenAt(season, plan, date);
  const later: Season = { ...reopened, roster: { ...reopened.roster, heldDays: 0 } };
  const at = later.asOf;
  const asked = new Set(allBrewsToPlan(later, at).map((brew) => brew.id));
  const open = new Set(later.contracts.map((contract) => contract.id));
  const from = <T extends { on: string }>(list: readonly T[]) => list.filter((one) => one.on >= date);
  const rest: Plan = {
    ...plan,
    seasonHash: await seasonHash(later),
    asOf: at,
    runs: plan.runs.filter((run) => run.stripAt > at)
      .map((run) => run.steepInAt < at ? { ...run, standing: "under way" } : run),
    brews: from(plan.brews).filter((brew) => asked.has(brew.id)),
    unbrewed: plan.unbrewed.filter((brew) => asked.has(brew.id)),
    orders: plan.orders.filter((order) => order.orderedOn >= date),
    maltDeliveries: from(plan.maltDeliveries),
    unsold: plan.unsold.filter((one) => open.has(one.contractId)),
    fills: from(plan.fills),
    leftOut: from(plan.leftOut),
    moves: from(plan.moves),
    feedLoads: from(plan.feedLoads),
    seedTaken: from(plan.seedTaken),
    grainDeliveries: from(plan.grainDeliveries),
    cannotKeep: [],
  };
  return { season: later, plan: { ...rest, goals: goalsOf(later, rest) } };
}

/** The goals of the rest, from the rules page; the auditor, who counts them again, is asked whether they are right. */
function goalsOf(season: Season, plan: Plan): Plan["goals"] {
  const ctx = context(season, plan);
  const made: [number, number, number] = [0, 0, 0], asked: [number, number, number] = [0, 0, 0];
  const brewed = new Map(plan.brews.map((brew) => [brew.id, brew]));
  let promisesHeld = 0, tailMade = 0;
  for (const [id, brew] of ctx.asked) {
    const done = brewed.get(id);
    if (brew.tail) {
      if (done) tailMade++;
      continue;
    }
    asked[brew.class - 1]!++;
    if (!done) continue;
    made[brew.class - 1]!++;
    if (done.promiseHeld) promisesHeld++;
  }
  const runs = plan.runs.filter((run) => run.standing !== "under way").reduce((sum, run) => {
    const made = season.maltTypes.find((malt) => malt.id === run.maltId)!.made;
    return made.from === "grain" ? sum + made.runCents + made.perTonneCents * run.cleanG / 1e6 : sum;
  }, 0);
  const sum = <T>(list: readonly T[], cents: (one: T) => number) =>
    Math.round(list.reduce((all, one) => all + cents(one), 0));
  const price = (id: string) => {
    const contract = season.contracts.find((one) => one.id === id);
    return contract === undefined ? 0 : contract.perTonneCents / 1e6;
  };
  const money: Plan["goals"]["money"] = {
    runsCents: Math.round(runs),
    ordersCents: sum(plan.orders, (order) => order.costCents),
    movesCents: sum(
      plan.moves,
      (move) => season.costs.moveCents + season.costs.movePerTonneCents * move.massG / 1e6,
    ),
    nightTurnsCents: sum(nightTurns(ctx), (turn) => turn.costCents),
    extraHoursCents: plan.goals.money.extraHoursCents,
    feedCents: -sum(plan.feedLoads, (load) => load.revenueCents),
    salesCents: -sum(plan.grainDeliveries, (one) => one.massG * price(one.contractId)),
    endGrainCents: -Math.round(endGrainCents(ctx)),
    reserveCents: Math.round(reserveCents(ctx)),
    changedRunsCents: 0,
  };
  const moneyCents = Object.values(money).reduce((all, part) => all + part, 0);
  return { made, asked, promisesHeld, tailMade, moneyCents, money };
}
