import type { VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import { c } from "./frame.ts";
import { Mark } from "./Mark.tsx";
import type { SectionLayout } from "./section-layout.ts";
import { malt, shortDay } from "./words.ts";

/**
 * The batches of malt that runs give: unseen until traced or stepped to, because stock on hand is drawn by malt and
 * not by batch. Without them the chain would have a gap between run and brew.
 */
export function Batches({ year, layout }: { year: Year; layout: SectionLayout }): VNode {
  const { frame } = layout;
  const grounds = new Map(layout.malt.places.map(({ row, ground }) => [row.maltId, ground]));
  return (
    <g class="batches">
      {year.malthouse.runs.flatMap((run) =>
        run.outputs.map((out) => {
          const ground = grounds.get(out.maltId);
          if (ground === undefined || out.readyDay < frame.fromDay || out.readyDay >= frame.toDay) {
            return null;
          }
          const x = c(frame.x(out.readyDay));
          const says = `${
            malt(out.massG, year.units)
          } of ${out.maltName.toLowerCase()} of run ${run.number}, ready ${
            shortDay(out.readyDay)
          }, to be brewed by ${shortDay(out.lastDay)}`;
          return (
            <Mark key={out.batchId} node={out.node} says={says} kind="batch">
              <circle class="only-traced" cx={x} cy={ground} r={2.6} />
              <rect class="hit" x={x - 5} y={ground - 7} width={10} height={9} />
            </Mark>
          );
        })
      )}
    </g>
  );
}
