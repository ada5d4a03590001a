import type { VNode } from "preact";
import { dayNumber } from "../../core/calendar.ts";
import { monthWords, twelveMonths } from "../../core/explain/limit-months.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import { cashBetween, cashOf } from "../../core/year/cash-months.ts";
import { money } from "../../islands/_charts/words.ts";
import { Question } from "./question.tsx";
import { Table } from "./tables.tsx";

/** What cash goes out, and comes in, each month. */
export function CashQuestion({ season, plan }: { season: Season; plan: Plan }): VNode {
  const entries = cashOf(season, plan);
  const rows = twelveMonths(dayNumber(plan.asOf.slice(0, 10))).map((month, at) => ({
    name: monthWords(month, at),
    ...cashBetween(entries, month.from, month.to),
  }));
  const most = rows.toSorted((a, b) => b.out - a.out)[0]!;
  return (
    <Question
      id="cash"
      asks="What cash goes out each month?"
      answer={most.out === 0
        ? "None that the plan knows of."
        : `Most in ${most.name}: ${money(most.out, season.currency)}`}
    >
      {rows.some((one) => one.out !== 0 || one.in !== 0) && (
        <Table
          caption="Cash by month"
          columns={[{ name: "Month" }, { name: `Out, ${season.currency}`, number: true }, {
            name: `In, ${season.currency}`,
            number: true,
          }]}
          rows={rows.map((one) => [one.name, figure(one.out), figure(one.in)])}
        />
      )}
      <p class="quiet">
        Runs on the day of steep-in, orders when they are placed, moves, grain bought and sold under contract,
        feed loads after haulage. Not in it: growing, wages, night turns and hours beyond the roster, and the
        beer itself.
      </p>
    </Question>
  );
}

function figure(cents: number): string {
  return cents === 0 ? "" : Math.round(cents / 100).toLocaleString("en-US");
}
