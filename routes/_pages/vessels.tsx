import type { VNode } from "preact";
import { vesselTime } from "../../core/year/vessel-time.ts";
import { capital, percent } from "../../islands/_charts/words.ts";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** How the time of each vessel is spent, and when it is full. */
export function Vessels({ view }: { view: YearView }): VNode {
  const { year } = view;
  return (
    <Part
      title="Use of the vessels"
      about="Shares of the time ahead. A vessel is full while no further run can be started beside those planned: what its loads leave is cleaned and then too short for another one, or nobody is there, or a vessel is closed."
      fold
      columns={[
        { name: "Vessel" },
        { name: "Loads", number: true },
        { name: "Too short", number: true },
        { name: "Nobody there", number: true },
        { name: "Closed or taken", number: true },
        { name: "Open", number: true },
        { name: "Full", prose: true },
      ]}
      rows={year.malthouse.vessels.map((vessel) => {
        const time = vesselTime(year, vessel);
        const full = vessel.full.map(({ words }) => capital(words)).join("; ");
        if (time === null) {
          const loads = vessel.useAhead === null ? "" : percent(vessel.useAhead);
          return [vessel.name, loads, "", "", "", "", full];
        }
        const { loaded, blocked, open } = time;
        return [
          vessel.name,
          percent(loaded),
          percent(blocked["too short"]),
          percent(blocked["nobody there"]),
          percent(blocked.closed + blocked.taken),
          percent(open),
          full,
        ];
      })}
      none="The farm has no vessels."
    />
  );
}
