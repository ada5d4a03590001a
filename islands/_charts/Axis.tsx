import type { VNode } from "preact";
import { isoDate, monthOf, weekday, yearOf } from "../../core/calendar.ts";
import { formatDay } from "../../core/day-names.ts";
import { c, type Frame } from "./frame.ts";
import type { Box } from "./label-placement.ts";
import { textWidth } from "./text-width.ts";

const MONTHS = [
  ["January", "Jan"],
  ["February", "Feb"],
  ["March", "Mar"],
  ["April", "Apr"],
  ["May", "May"],
  ["June", "Jun"],
  ["July", "Jul"],
  ["August", "Aug"],
  ["September", "Sept"],
  ["October", "Oct"],
  ["November", "Nov"],
  ["December", "Dec"],
] as const;

const LABEL_Y = 24;
/** The rule under the names of the months. */
export const AXIS_Y = 31;

interface Month {
  readonly from: number;
  readonly to: number;
}

/** First and last day numbers of the months shown, cut to the axis. */
export function monthsOf({ fromDay, toDay }: Frame): Month[] {
  const months: Month[] = [];
  for (let day = fromDay; day < toDay; day++) {
    const last = months.at(-1);
    if (last === undefined || monthOf(day) !== monthOf(day - 1)) months.push({ from: day, to: day + 1 });
    else months[months.length - 1] = { ...last, to: day + 1 };
  }
  return months;
}

/** The names of months, the weeks as ticks, the first days of months as faint rules through all bands. */
export function Axis({ frame, bottom, weekStartsOn }: {
  frame: Frame;
  bottom: number;
  weekStartsOn: number;
}): VNode {
  const months = monthsOf(frame);
  const rules = months.slice(1).map(({ from }) => `M${c(frame.x(from))} ${AXIS_Y}V${c(bottom)}`).join("");
  const firstNamed = months.find(({ from, to }) => to - from > 21);
  const weeks = days(frame).filter((day) => weekday(day) === weekStartsOn);
  return (
    <g class="axis" aria-hidden="true">
      <path class="rule faint" d={rules} />
      <path
        class="rule ticks"
        d={`M${frame.left} ${AXIS_Y}H${c(frame.right)}` +
          weeks.map((day) => `M${c(frame.x(day))} ${AXIS_Y}v3`).join("")}
      />
      {months.map((month) => (
        <MonthName
          key={month.from}
          {...{ frame, month }}
          first={month === firstNamed}
        />
      ))}
    </g>
  );
}

/** A month's name with its year where one begins; what today's rule would cross stands beside it. */
function MonthName({ frame, month, first }: { frame: Frame; month: Month; first: boolean }): VNode | null {
  const number = monthOf(month.from);
  const [long, short] = MONTHS[number - 1]!;
  const year = first || number === 1 ? String(yearOf(month.from)) : "";
  const left = frame.x(month.from) + 5, right = frame.x(month.to) - 4;
  const now = frame.todayDay >= month.from && frame.todayDay < month.to ? frame.x(frame.todayDay) : Infinity;
  const width = (name: string) =>
    textWidth(year === "" ? name : `${name} `, 11.5) + textWidth(year, 11.5, true);
  const name = [long, short].find((one) => left + width(one) <= right) ?? "";
  if (name === "") return null;
  const cut = left + width(name) > now - 3 && left < now + 3;
  // The year steps over the rule when only the month's name fits before it.
  const stepsOver = cut && left + textWidth(name === long ? short : name, 11.5) <= now - 3;
  if (stepsOver) {
    return (
      <>
        <text x={c(left)} y={LABEL_Y} class="quiet">{short}</text>
        {year !== "" && <text x={c(now + 5)} y={LABEL_Y} class="bold">{year}</text>}
      </>
    );
  }
  return (
    <text x={c(cut ? now + 5 : left)} y={LABEL_Y} class="quiet">
      {cut ? short : name}
      {year !== "" && <tspan class="year">{` ${year}`}</tspan>}
    </text>
  );
}

/** The rule of today through all bands, with its date above the months. */
export function Today({ frame, bottom }: { frame: Frame; bottom: number }): VNode | null {
  const { todayDay } = frame;
  if (todayDay < frame.fromDay || todayDay >= frame.toDay) return null;
  const date = isoDate(todayDay);
  const words = `today, ${formatDay(date, "en-US", "long").slice(0, 3)} ${formatDay(date)}`;
  const x = frame.x(todayDay);
  const half = textWidth(words, 11.5, true) / 2;
  const middle = Math.min(Math.max(x, frame.left + half), frame.right - half);
  return (
    <g class="today" aria-hidden="true">
      <path d={`M${c(x)} ${AXIS_Y - 14}V${c(bottom)}`} />
      <path class="solid" d={`M${c(x - 3.5)} ${AXIS_Y - 17}h7L${c(x)} ${AXIS_Y - 12}Z`} />
      <text x={c(middle)} y={11} text-anchor="middle">{words}</text>
    </g>
  );
}

/** Today's rule goes through all bands, however many there are. */
const TALLEST_DRAWING = 4000;

/** The ground of today's rule, which no words may cross. */
export function todayBox({ todayDay, fromDay, toDay, x }: Frame): Box[] {
  if (todayDay < fromDay || todayDay >= toDay) return [];
  return [{ x: x(todayDay) - 0.5, y: AXIS_Y, width: 1, height: TALLEST_DRAWING }];
}

function days({ fromDay, toDay }: Frame): number[] {
  return Array.from({ length: toDay - fromDay }, (_, index) => fromDay + index);
}
