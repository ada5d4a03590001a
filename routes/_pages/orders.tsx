import type { VNode } from "preact";
import { malt, money, shortDay } from "../../islands/_charts/words.ts";
import { Cautions } from "./cautions.tsx";
import { type Cell, type Column, Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** Columns of what is to be ordered, the same on screen and on paper. */
export const ORDER_COLUMNS: readonly Column[] = [
  { name: "Order by" },
  { name: "What" },
  { name: "Packs", number: true },
  { name: "Weight", number: true },
  { name: "From", prose: true },
  { name: "Arrives" },
  { name: "Costs", number: true },
  { name: "Stands" },
];

/** Everything to order, in order of the last day to do so. */
export function orderRows({ season, year }: YearView): Cell[][] {
  return year.malt.rows.flatMap((row) => row.orders.map((order) => ({ ...order, name: row.name })))
    .filter(({ standing }) => standing !== "done").toSorted((a, b) => a.orderDay - b.orderDay)
    .map((one) => [
      shortDay(one.orderDay),
      one.name,
      one.packs,
      malt(one.massG, year.units),
      one.supplier,
      shortDay(one.arriveDay),
      money(one.costCents, season.currency),
      one.standing,
    ]);
}

/** The orders of the year with their cautions. */
export function Orders({ view }: { view: YearView }): VNode {
  const rows = orderRows(view);
  return (
    <Part title="To order" wide columns={ORDER_COLUMNS} rows={rows} none="Nothing has to be ordered.">
      {rows.length > 0 && <Cautions title="Where orders come in" kinds={["order"]} />}
    </Part>
  );
}
