import type { VNode } from "preact";
import { Cautions, gravest } from "./cautions.tsx";
import { LEAVE_COLUMNS, leaves, withCaution } from "./loads.tsx";
import { Part } from "./tables.tsx";
import type { YearView } from "./view.ts";

/** The column that says why grain must leave, where the gravest caution stands at the first of such rows. */
const WHY = LEAVE_COLUMNS.findIndex(({ name }) => name === "Makes room for");

/** Grain that leaves its bin otherwise than into the steep: feed loads, moves, seed and sales. */
export function Leaving({ view }: { view: YearView }): VNode {
  const all = leaves(view);
  const firstMust = all.findIndex(({ must }) => must);
  return (
    <Part
      title="Out of the bins"
      wide
      columns={LEAVE_COLUMNS}
      rows={all.map(({ cells }, index) =>
        index !== firstMust
          ? cells
          : cells.map((cell, at) => at === WHY ? withCaution(cell, gravest("bin clean by")) : cell)
      )}
      none="Nothing has to be moved, fed or sold."
    >
      <Cautions
        title="Where grain is moved, fed or sold"
        kinds={[...new Set(all.map(({ hazard }) => hazard))]}
      />
    </Part>
  );
}
