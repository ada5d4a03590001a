import type { VNode } from "preact";
import { type Month, monthWords } from "../../core/explain/limit-months.ts";
import { listWords } from "../../core/year/words.ts";
import { c } from "./frame.ts";

/** As wide as a phone, so that nothing is scrolled there. */
const WIDTH = 344;
/** Years in which nothing goes short stand behind the last month. */
const RIGHT = 76;
const ROW = 9;
const RADIUS = 3.4;
const FOOT = 16;

/** One dot a year, over the month in which its first brew goes short; years that go well stand apart, on the right. */
export function YearDots({ months, firstShortDays }: {
  months: readonly Month[];
  firstShortDays: readonly (number | null)[];
}): VNode {
  const counts = months.map((month) => inMonth(firstShortDays, month));
  const well = firstShortDays.filter((day) => day === null).length;
  const rows = Math.max(4, ...counts, Math.ceil(well / 4));
  const ground = rows * ROW + 4;
  const step = (WIDTH - RIGHT) / months.length;
  const height = ground + FOOT;
  return (
    <svg
      class="section year-dots"
      viewBox={`0 0 ${WIDTH} ${height}`}
      width={WIDTH}
      height={height}
      role="img"
      aria-label={yearDotsWords(months, firstShortDays)}
    >
      <path class="ground" d={`M0 ${ground}H${WIDTH}`} />
      {months.map((month, at) => (
        <g key={month.from}>
          {Array.from({ length: counts[at]! }, (_, row) => (
            <circle
              key={row}
              class="short-year"
              cx={c((at + 0.5) * step)}
              cy={c(ground - ROW * (row + 0.5) - 1)}
              r={RADIUS}
            />
          ))}
          <text class="quiet" x={c((at + 0.5) * step)} y={height - 4} text-anchor="middle">
            {months.length > 14 ? monthWords(month, 1).charAt(0) : monthWords(month, 1).slice(0, 3)}
          </text>
        </g>
      ))}
      {Array.from({ length: well }, (_, at) => (
        <circle
          key={at}
          class="well-year"
          cx={c(WIDTH - RIGHT + 22 + (at % 4) * 11)}
          cy={c(ground - ROW * (Math.floor(at / 4) + 0.5) - 1)}
          r={RADIUS}
        />
      ))}
      <text class="quiet" x={WIDTH - RIGHT + 18} y={height - 4}>not short</text>
    </svg>
  );
}

function inMonth(days: readonly (number | null)[], { from, to }: Month): number {
  return days.filter((day) => day !== null && day >= from && day < to).length;
}

/** "First short in Oct 8 years and Nov 2 years; not short: 10 years", the drawing in words; the year stands by the first month and each January. */
export function yearDotsWords(months: readonly Month[], firstShortDays: readonly (number | null)[]): string {
  const years = (count: number) => `${count} ${count === 1 ? "year" : "years"}`;
  const named = months.flatMap((month, at) => {
    const count = inMonth(firstShortDays, month);
    return count === 0 ? [] : [`${monthWords(month, at)} ${years(count)}`];
  });
  const well = firstShortDays.filter((day) => day === null).length;
  const short = named.length === 0 ? [] : [`First short in ${listWords(named)}`];
  return [...short, `${short.length === 0 ? "N" : "n"}ot short: ${years(well)}`].join("; ");
}
