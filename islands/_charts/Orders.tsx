import type { VNode } from "preact";
import type { MaltRow } from "../../core/year/malt-band.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { c, type Frame } from "./frame.ts";
import { standingClass } from "./Leaving.tsx";
import { Mark } from "./Mark.tsx";
import { malt, shortDay } from "./words.ts";

/** An arrival stands before its day, so that it does not melt into what was lacking until then. */
const BEFORE = 5;

/** Orders of a malt: an open triangle on the order day, a solid one on arrival, a fine line between them. */
export function Orders({ row, frame, ground, units }: {
  row: MaltRow;
  frame: Frame;
  ground: number;
  units: ReaderUnits;
}): VNode {
  const y = ground + 3;
  return (
    <g>
      {row.orders.filter(({ arriveDay, orderDay }) => arriveDay >= frame.fromDay && orderDay < frame.toDay)
        .map((order) => {
          const ordered = frame.x(order.orderDay), arrives = frame.x(order.arriveDay);
          return (
            <Mark
              key={order.id}
              node={order.node}
              says={`Order ${
                malt(order.massG, units)
              } of ${row.name.toLowerCase()} from ${order.supplier} on ${shortDay(order.orderDay)}, arrives ${
                shortDay(order.arriveDay)
              }, ${order.standing}`}
              kind={`order ${standingClass(order.standing)}`}
            >
              <path class="way" d={`M${c(ordered + 3.5)} ${y + 5}H${c(arrives - BEFORE - 3.5)}`} />
              <path class="open" d={triangle(ordered, y)} />
              <path class="solid" d={triangle(arrives - BEFORE, y)} />
              <rect class="hit" x={c(ordered - 5)} y={y - 1} width={c(arrives - ordered + 10)} height={11} />
            </Mark>
          );
        })}
    </g>
  );
}

function triangle(x: number, y: number): string {
  return `M${c(x)} ${y}L${c(x + 3.7)} ${y + 7}H${c(x - 3.7)}Z`;
}
