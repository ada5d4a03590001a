import type { VNode } from "preact";
import { isoDate, monthOf } from "../../core/calendar.ts";
import { firstLack } from "../../core/year/sentence.ts";
import type { Lack } from "../../core/year/malt-band.ts";
import type { Year } from "../../core/year/year.ts";
import { shortMaltWords, upperFirst } from "../../core/year/words.ts";
import { c } from "./frame.ts";
import { clip } from "./text-width.ts";
import { malt, shortDay } from "./words.ts";

/** As wide as a phone; its type is that of the page, so it is drawn at this width and never smaller. */
const WIDTH = 344;
const TYPE = 13;
const TOP = 22;
/** From one line of words to the next, and from the last one to the row's line. */
const LINE = 16;
const MARKS = 12;

/** A row of the short section: its words, and what stands on its line. */
interface Row {
  readonly key: string;
  readonly words: readonly { readonly text: string; readonly bold?: boolean }[];
  readonly marks: readonly {
    readonly kind: "lack" | "full" | "leave";
    readonly from: number;
    readonly to: number;
  }[];
}

/**
 * The three answers of the year drawn as narrow as a phone: when home malt runs short, which vessel is full, and what must
 * leave which bin by when, from today to the last day shown. The section itself needs to be scrolled there.
 */
export function ShortSection({ year }: { year: Year }): VNode | null {
  const today = Math.floor(year.asOf);
  const rows = [...lackRows(year, today), ...fullRows(year, today), ...leaveRows(year, today)];
  if (rows.length === 0) return null;
  const x = (day: number) =>
    Math.min(1, Math.max(0, (day - today) / Math.max(1, year.lastDay + 1 - today))) * WIDTH;
  let y = TOP;
  const placed = rows.map((row) => {
    const top = y + 6;
    const line = top + row.words.length * LINE + MARKS;
    y = line;
    return { row, top, line };
  });
  const height = y + 8;
  return (
    <svg
      class="section short-section"
      viewBox={`0 0 ${WIDTH} ${height}`}
      width={WIDTH}
      height={height}
      role="img"
      aria-label={`The year in short: ${
        rows.flatMap(({ words }) => words.map(({ text }) => text)).join("; ")
      }`}
    >
      {months(today, year.lastDay).map(({ day, name }) => (
        <g key={day}>
          <path class="rule faint" d={`M${c(x(day))} 18V${height}`} />
          <text class="quiet" x={c(x(day) + 2)} y={12}>{name}</text>
        </g>
      ))}
      {placed.map(({ row, top, line }) => (
        <g key={row.key}>
          {row.words.map(({ text, bold }, index) => (
            <text
              key={text}
              y={top + (index + 1) * LINE - 4}
              class={bold ? "bold" : undefined}
              font-size={TYPE}
            >
              {clip(text, WIDTH, TYPE, bold)}
            </text>
          ))}
          <path class="ground" d={`M0 ${line}H${WIDTH}`} />
          {row.marks.map(({ kind, from, to }) => (
            <Sign key={`${kind} ${from}`} kind={kind} left={x(from)} right={x(to)} y={line} />
          ))}
        </g>
      ))}
    </svg>
  );
}

function Sign({ kind, left, right, y }: { kind: string; left: number; right: number; y: number }): VNode {
  if (kind === "leave") {
    return <path class="solid" d={`M${c(left - 4)} ${y - 7}h8L${c(left)} ${y}Z`} />;
  }
  const width = c(Math.max(3, right - left));
  return kind === "full"
    ? (
      <g class="limit">
        <path class="heavy" d={`M${c(left)} ${y - 5}h${width}`} />
      </g>
    )
    : (
      <g class="lack">
        <path d={`M${c(left)} ${y - 7}h${width}v7h${-width}Z`} />
      </g>
    );
}

/** One row a malt: the shortage that the sentence names, else its largest, in the same words, and the others by day and weight. */
function lackRows(year: Year, today: number): Row[] {
  return year.malt.rows.flatMap((row) => {
    const ahead = row.lacks.filter(({ firstDay, lastDay }) => lastDay >= today && firstDay <= year.lastDay);
    const answer = firstLack(year);
    const first = ahead.find((one) => one === answer) ?? ahead.toSorted((a, b) => b.massG - a.massG)[0];
    const rest = ahead.filter((one) => one !== first);
    if (first === undefined) return [];
    const short = (one: Lack) => `${shortDay(one.firstDay)} (${malt(one.massG, year.units, "short")})`;
    return [{
      key: row.key,
      words: [
        {
          text: `Home ${shortMaltWords(row.name)} short ${first.forecast ? "about " : ""}${
            shortDay(first.firstDay)
          }${first.backDay === null ? ", not back" : `, back ${shortDay(first.backDay)}`}`,
          bold: true,
        },
        { text: first.weight },
        ...pairs(rest.toSorted((a, b) => a.firstDay - b.firstDay).map(short)).map((text) => ({
          text: `also ${text}`,
        })),
      ],
      marks: ahead.map((one) => ({
        kind: "lack" as const,
        from: one.firstDay,
        to: one.backDay ?? one.lastDay + 1,
      })),
    }];
  });
}

/** Two to a line: more would run over the edge of a phone. */
function pairs(items: readonly string[]): string[] {
  return items.flatMap((one, at) => at % 2 === 0 ? [[one, ...items.slice(at + 1, at + 2)].join(", ")] : []);
}

function fullRows(year: Year, today: number): Row[] {
  return year.malthouse.vessels.flatMap((vessel) =>
    vessel.full.filter(({ to, from }) => to >= today && from <= year.lastDay).map((one) => ({
      key: `${vessel.id} ${one.from}`,
      words: [{ text: upperFirst(one.words), bold: true }, { text: "no further run beside those planned" }],
      marks: [{ kind: "full" as const, from: one.from, to: one.to + 1 }],
    }))
  );
}

function leaveRows(year: Year, today: number): Row[] {
  return year.stores.flatMap((row) => {
    const notes = row.mustLeave.filter(({ onDay }) => onDay >= today && onDay <= year.lastDay);
    return notes.length === 0 ? [] : [{
      key: row.id,
      words: notes.flatMap(({ letter, words }) => [
        { text: `${letter} ${words.go}`, bold: true },
        { text: `${words.where}; ${words.comes}` },
      ]),
      marks: notes.map(({ byDay }) => ({ kind: "leave" as const, from: byDay, to: byDay + 1 })),
    }];
  });
}

const INITIALS = "JFMAMJJASOND";

function months(from: number, to: number): { day: number; name: string }[] {
  const found: { day: number; name: string }[] = [];
  for (let day = from; day <= to; day++) {
    if (isoDate(day).endsWith("-01")) found.push({ day, name: INITIALS[monthOf(day) - 1]! });
  }
  return found;
}
