import type { VNode } from "preact";
import { malt, money, shortDay } from "../../islands/_charts/words.ts";
import { Cautions } from "./cautions.tsx";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** Everything to order, in order of the last day to do so. */
export function Orders({ view }: { view: YearView }): VNode {
  const { season, year } = view;
  const orders = year.malt.rows.flatMap((row) => row.orders.map((order) => ({ ...order, name: row.name })))
    .filter(({ standing }) => standing !== "done").toSorted((a, b) => a.orderDay - b.orderDay);
  return (
    <Part
      title="To order"
      wide
      columns={[
        { name: "Order by" },
        { name: "What" },
        { name: "Packs", number: true },
        { name: "Weight", number: true },
        { name: "From" },
        { name: "Arrives" },
        { name: "Costs", number: true },
        { name: "Stands" },
      ]}
      rows={orders.map((one) => [
        shortDay(one.orderDay),
        one.name,
        one.packs,
        malt(one.massG, year.units),
        one.supplier,
        shortDay(one.arriveDay),
        money(one.costCents, season.currency),
        one.standing,
      ])}
      none="Nothing has to be ordered."
    >
      {orders.length > 0 && <Cautions title="Where orders come in" kinds={["order"]} />}
    </Part>
  );
}
