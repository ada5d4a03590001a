import type { VNode } from "preact";
import { FlowChart } from "../../islands/_charts/FlowChart.tsx";
import { beer, count } from "../../islands/_charts/words.ts";
import { Fold, Table } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** The year's mass flow from field to glass: drawn, and the same as tables. */
export function FlowPart({ view }: { view: YearView }): VNode | null {
  const { flow, year } = view;
  if (flow.links.length === 0) return null;
  const names = new Map(flow.nodes.map(({ id, label }) => [id, label]));
  const kg = (massG: number) => count(massG / 1000);
  return (
    <Fold title="From field to glass" kind="part wide">
      <p class="quiet">
        Tonnes of dry matter, which is what balances; hatched ends are losses, open bands are bought.
      </p>
      <FlowChart flow={flow} />
      <details>
        <summary>The same as a table</summary>
        <Table
          caption="Flow of dry matter"
          columns={[{ name: "From" }, { name: "To" }, { name: "Dry matter, kg", number: true }, {
            name: "As weighed, kg",
            number: true,
          }]}
          rows={flow.links.map((
            one,
          ) => [names.get(one.from), names.get(one.to), kg(one.dryG), kg(one.massG)])}
        />
      </details>
      {flow.volumes.length > 0 && (
        <Table
          caption="From wort to glass"
          columns={[
            { name: "Beer" },
            { name: "Into the tanks", number: true },
            { name: "Lost", prose: true },
            { name: "Packaged", number: true },
          ]}
          rows={flow.volumes.map((one) => [
            one.beerName,
            beer(one.wortL, year.units),
            one.losses.map(({ name, volumeL }) => `${name} ${beer(volumeL, year.units)}`).join(", "),
            beer(one.packagedL, year.units),
          ])}
        />
      )}
    </Fold>
  );
}
