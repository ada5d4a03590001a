import type { VNode } from "preact";
import { isoDate, monthOf } from "../../core/calendar.ts";
import { type RunWorth, runWorthWords, worthShare } from "../../core/year/run-worth.ts";
import { c } from "./frame.ts";

/** As wide as a phone, so that nothing is scrolled there. */
const WIDTH = 344;
const TOP = 16;
const HEIGHT = 40;
/** Room that a month's letter takes. */
const LETTER = 12;
const INITIALS = "JFMAMJJASOND";

/** What one more run is worth by week, by itself: a box a week on a line, a point where nothing is gained. */
export function WorthChart({ weeks }: { weeks: readonly RunWorth[] }): VNode | null {
  const first = weeks[0], last = weeks.at(-1);
  if (first === undefined || last === undefined) return null;
  const step = WIDTH / ((last.day - first.day) / 7 + 1);
  const x = (day: number) => (day - first.day) / 7 * step;
  const ground = TOP + HEIGHT;
  return (
    <svg
      class="section worth-chart"
      viewBox={`0 0 ${WIDTH} ${ground + 2}`}
      width={WIDTH}
      height={ground + 2}
      role="img"
      aria-label={runWorthWords(weeks)}
    >
      {monthStarts(first.day, last.day + 6).map((day) => (
        <g key={day}>
          <path class="rule faint" d={`M${c(x(day))} ${TOP - 4}V${ground}`} />
          {x(day) + LETTER < WIDTH && (
            <text class="quiet" x={c(x(day) + 2)} y={TOP - 5}>{INITIALS[monthOf(day) - 1]}</text>
          )}
        </g>
      ))}
      <g class="worth">
        {weeks.map((one) => {
          const height = one.isNoise ? 1.5 : worthShare(one, weeks) * HEIGHT;
          return (
            <path
              key={one.day}
              class={one.isNoise ? "none" : undefined}
              d={`M${c(x(one.day) + 0.7)} ${c(ground - height)}h${c(step - 1.4)}v${c(height)}h${
                c(1.4 - step)
              }Z`}
            />
          );
        })}
      </g>
      <path class="ground" d={`M0 ${ground}H${WIDTH}`} />
    </svg>
  );
}

function monthStarts(from: number, to: number): number[] {
  return Array.from({ length: to - from + 1 }, (_, at) => from + at).filter((day) =>
    isoDate(day).endsWith("-01")
  );
}
