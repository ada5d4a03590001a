import type { VNode } from "preact";
import { capital, percent } from "../../islands/_charts/words.ts";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** How much of its open time each vessel is taken, and when it is the limit. */
export function Vessels({ view }: { view: YearView }): VNode {
  const { year } = view;
  return (
    <Part
      title="Use of the vessels"
      about="Share of the open time that is taken, cleaning included."
      columns={[{ name: "Vessel" }, { name: "So far", number: true }, { name: "Ahead", number: true }, {
        name: "Where it is the limit",
        prose: true,
      }]}
      rows={year.malthouse.vessels.map((vessel) => [
        vessel.name,
        vessel.useSoFar === null ? "" : percent(vessel.useSoFar),
        vessel.useAhead === null ? "" : percent(vessel.useAhead),
        vessel.full.map(({ text }) => capital(text)).join("; "),
      ])}
      none="The farm has no vessels."
    />
  );
}
