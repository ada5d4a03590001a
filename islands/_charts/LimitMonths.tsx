import type { VNode } from "preact";
import { type LimitRow, type Month, monthWords } from "../../core/explain/limit-months.ts";
import { limitLabel } from "../../core/explain/words.ts";
import { listWords } from "../../core/year/words.ts";
import { c } from "./frame.ts";

/** As wide as a phone, so that nothing is scrolled there. */
const WIDTH = 344;
const LEFT = 92;
const ROW = 20;
const TOP = 18;

/** Twelve months from left to right, a row a limit: a bar where something falls short that ends when that limit is taken away. */
export function LimitMonths({ rows, months }: {
  rows: readonly LimitRow[];
  months: readonly Month[];
}): VNode {
  const step = (WIDTH - LEFT) / months.length;
  const height = TOP + ROW * Math.max(1, rows.length) + 4;
  const x = (at: number) => LEFT + at * step;
  return (
    <svg
      class="section limit-months"
      viewBox={`0 0 ${WIDTH} ${height}`}
      width={WIDTH}
      height={height}
      role="img"
      aria-label={limitMonthsWords(rows, months)}
    >
      {months.map((month, at) => (
        <g key={month.from}>
          <path class="rule faint" d={`M${c(x(at))} ${TOP - 4}V${height}`} />
          <text class="quiet" x={c(x(at) + step / 2)} y={TOP - 6} text-anchor="middle">
            {monthWords(month, 1).charAt(0)}
          </text>
        </g>
      ))}
      {rows.map((row, at) => {
        const ground = TOP + ROW * (at + 1) - 4;
        return (
          <g key={row.limit ?? "none"}>
            <text x={0} y={ground}>{limitLabel(row.limit)}</text>
            <path class="ground" d={`M${LEFT} ${ground}H${WIDTH}`} />
            <path
              class="felt"
              d={row.months.map((felt, month) =>
                felt ? `M${c(x(month) + 1)} ${ground - 9}h${c(step - 2)}v9h${c(2 - step)}Z` : ""
              ).join("")}
            />
          </g>
        );
      })}
    </svg>
  );
}

/** "kiln: Mar and Jul; staffed hours: May", the drawing in words. */
export function limitMonthsWords(rows: readonly LimitRow[], months: readonly Month[]): string {
  if (rows.length === 0) return "Nothing falls short in these twelve months.";
  return rows.map(({ limit, months: felt }) => {
    const named = months.flatMap((month, at) => felt[at] ? [monthWords(month, at === 0 ? 0 : at)] : []);
    return `${limitLabel(limit)}: ${listWords(named)}`;
  }).join("; ");
}
