import { dateOf, dayNumber, type IsoDate } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";

const G_PER_TONNE = 1e6;

/** Money that a plan dates: cents, more than nothing goes out and less comes in. */
export interface CashEntry {
  readonly day: number;
  readonly kind: "runs" | "orders" | "moves" | "grain bought" | "feed" | "sales";
  readonly cents: number;
}

/**
 * What goes out and comes in, on the day on which it happens, whatever day it is paid: runs at their steep-in, orders when they are
 * placed, moves, grain bought under contract when it comes, feed loads after haulage, and sales under contract. Night turns and hours
 * beyond the roster have no day in a plan and are left out.
 */
export function cashOf(season: Season, plan: Plan): CashEntry[] {
  const today = dateOf(plan.asOf);
  const entry = (kind: CashEntry["kind"], on: IsoDate, cents: number): CashEntry => ({
    kind,
    day: dayNumber(on),
    cents: Math.round(cents),
  });
  const contracts = new Map(season.contracts.map((one) => [one.id, one]));
  const sold = (contractId: string, on: IsoDate, massG: number) =>
    entry("sales", on, -(contracts.get(contractId)?.perTonneCents ?? 0) * massG / G_PER_TONNE);
  return [
    ...plan.runs.filter((run) => run.standing !== "under way").map((run) => {
      const made = season.maltTypes.find((one) => one.id === run.maltId)?.made;
      const cents = made?.from === "grain"
        ? made.runCents + made.perTonneCents * run.cleanG / G_PER_TONNE
        : 0;
      return entry("runs", run.steepInAt.slice(0, 10), cents);
    }),
    ...plan.orders.map((one) => entry("orders", one.orderedOn, one.costCents)),
    ...plan.moves.map((one) =>
      entry(
        "moves",
        one.on,
        season.costs.moveCents + season.costs.movePerTonneCents * one.massG / G_PER_TONNE,
      )
    ),
    ...season.contracts.flatMap((one) =>
      one.kind === "buy-grain" && one.on >= today
        ? [entry("grain bought", one.on, one.perTonneCents * one.massG / G_PER_TONNE)]
        : []
    ),
    ...plan.feedLoads.map((one) => entry("feed", one.on, -one.revenueCents)),
    ...plan.grainDeliveries.map((one) => sold(one.contractId, one.on, one.massG)),
    ...plan.maltDeliveries.map((one) =>
      sold(one.contractId, one.on, one.from.reduce((sum, each) => sum + each.massG, 0))
    ),
  ];
}

/** What goes out and what comes in between two days, the second one left out; both in cents and never less than nothing. */
export function cashBetween(
  entries: readonly CashEntry[],
  from: number,
  to: number,
): { readonly out: number; readonly in: number } {
  const inside = entries.filter(({ day }) => day >= from && day < to);
  const sum = (part: readonly CashEntry[]) => part.reduce((all, { cents }) => all + cents, 0);
  return {
    out: sum(inside.filter(({ cents }) => cents > 0)),
    in: Math.abs(sum(inside.filter(({ cents }) => cents < 0))),
  };
}
