import type { VNode } from "preact";
import { c } from "./frame.ts";
import type { Box } from "./label-placement.ts";
import type { SectionLayout } from "./section-layout.ts";

interface Thread {
  readonly key: string;
  readonly x: number;
  readonly fromY: number;
  readonly toY: number;
}

/** The threads that drop from a harvest into the bins it fills. */
export function Harvests({ layout }: { layout: SectionLayout }): VNode {
  return (
    <g class="harvests" aria-hidden="true">
      {threadsOf(layout).map(({ key, x, fromY, toY }) => (
        <g key={key}>
          <path d={`M${x} ${fromY}V${c(toY - 4)}`} />
          <circle cx={x} cy={fromY} r={1.8} />
          <path class="arrow" d={`M${x - 3} ${c(toY - 5.5)}h6L${x} ${toY}Z`} />
        </g>
      ))}
    </g>
  );
}

/** The narrow ground of the threads, which words keep clear of. */
export function threadBoxes(layout: SectionLayout): Box[] {
  return threadsOf(layout).map(({ x, fromY, toY }) => ({
    x: x - 1,
    y: fromY,
    width: 2,
    height: toY - fromY,
  }));
}

function threadsOf({ fields, stores, frame }: SectionLayout): Thread[] {
  const threads: Thread[] = [];
  for (const { plantings, ground } of fields.rows) {
    for (const planting of plantings) {
      // The lowest bin first: a thread to a bin further down passes beside the arrow of the one above.
      const filled = stores.places.flatMap(({ row, ground, height }) =>
        row.kind === "bin"
          ? row.arrivals.filter(({ kind, lotId, day }) =>
            kind === "harvest" && lotId === planting.lotId && day >= frame.fromDay && day < frame.toDay
          )
            .map(({ day, massG }) => ({
              day,
              ground,
              id: row.id,
              top: ground - Math.min(height, massG / 1e6 * stores.perTonne),
            }))
          : []
      );
      for (const [index, fill] of filled.entries()) {
        threads.push({
          key: `${planting.id}-${fill.id}`,
          x: c(frame.x(fill.day) + index * 4),
          fromY: ground,
          toY: c(fill.top),
        });
      }
    }
  }
  return threads;
}
