import type { VNode } from "preact";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** What the plan costs and brings, part by part. */
export function Money({ view }: { view: YearView }): VNode {
  const { plan, season } = view;
  const parts = plan === null ? [] : [
    ["Runs in the malthouse", plan.goals.money.runsCents],
    ["Orders, packs and freight", plan.goals.money.ordersCents],
    ["Moves from bin to bin", plan.goals.money.movesCents],
    ["Night turns", plan.goals.money.nightTurnsCents],
    ["Hours beyond the roster", plan.goals.money.extraHoursCents],
    ["Feed loads, less haulage", plan.goals.money.feedCents],
    ["Sales under contract", plan.goals.money.salesCents],
    ["Grain left at the end, at its feed price", plan.goals.money.endGrainCents],
    ["Stated price of days below the reserve", plan.goals.money.reserveCents],
    ["Stated price of changed runs", plan.goals.money.changedRunsCents],
  ] as const;
  const shown = parts.filter(([, cents]) => cents !== 0);
  return (
    <Part
      title="Money"
      fold
      about="What the plan can still change, from now to twelve weeks past the last day shown; a minus sign brings money."
      columns={[{ name: "For" }, { name: season.currency, number: true }]}
      rows={plan === null ? [] : [...shown.map(([name, cents]) => [name, figure(cents)]), [
        <b key="words">Together</b>,
        <b key="sum">{figure(plan.goals.moneyCents)}</b>,
      ]]}
      none=""
    />
  );
}

function figure(cents: number): string {
  return `${cents < 0 ? "−" : ""}${Math.round(Math.abs(cents) / 100).toLocaleString("en-US")}`;
}
