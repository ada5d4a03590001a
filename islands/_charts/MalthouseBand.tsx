import type { VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import { todayBox } from "./Axis.tsx";
import { Empty } from "./Empty.tsx";
import { c, type Frame } from "./frame.ts";
import { labelBox, type Placed, placeLabels } from "./label-placement.ts";
import { type Line, type Limit, type MalthouseLayout, STAIR, TREADS } from "./malthouse-layout.ts";
import { Run } from "./Run.tsx";
import { clip } from "./text-width.ts";
import { shortDay } from "./words.ts";
import { Figure, RowName, Words, type WordsWish } from "./Words.tsx";

/** Malthouse: each run one stair from steep to bed to kiln; the corner shared by two treads is the hand-over. */
export function MalthouseBand({ year, frame, layout, words }: {
  year: Year;
  frame: Frame;
  layout: MalthouseLayout;
  /** From malthouseWords: they hang into the band below, which keeps clear of them. */
  words: readonly Placed<WordsWish>[];
}): VNode {
  const { top, lines, limits } = layout;
  const usual = usualMalts(year);
  return (
    <g class="band malthouse" role="group" aria-label="Malthouse">
      <RowName name="Malthouse" full="Malthouse" y={top + 12} bold />
      {year.malthouse.runs.length === 0 && lines.length === 0 && <Empty words="Each run will be one stair from steep to bed to kiln." y={top + 12} frame={frame} />}
      {lines.map((line) => (
        <g key={line.bed}>
          {lines.length > 1 && <RowName name={clip(line.name, 90, 11.5)} full={line.name} y={line.top + 24} />}
          <Figure text="steep" y={line.top + 9.5} />
          <Figure text="bed" y={line.top + 24} />
          <Figure text="kiln" y={line.top + 38} />
          <Closures year={year} line={line} frame={frame} />
          {line.runs.map((run) => <Run key={run.id} {...{ run, frame, units: year.units }} top={line.top} short={usual.has(run.maltId) ? "" : run.maltName.charAt(0).toLowerCase()} />)}
          <path class="ground" d={`M${frame.left} ${line.top + STAIR}H${c(frame.right)}`} />
        </g>
      ))}
      {lines[0] !== undefined && <path class="pause" d={pauses(year, frame, lines[0])} />}
      {limits.map((one) => <Dimension key={`${one.vessel.id}-${one.from}`} {...{ one, frame, layout }} />)}
      <Words placed={words} />
    </g>
  );
}

/** The words of the band at their places: pauses above the stairs; closures and dumped runs below them. */
export function malthouseWords(year: Year, layout: MalthouseLayout, frame: Frame): Placed<WordsWish>[] {
  const { top, lines, limits, pauseY } = layout;
  const limitBoxes = limits.map((one) => labelBox(one.text, { x: middle(one, frame), y: one.y - 4, anchor: "middle" }, 11.5, true));
  const bounds = { x: frame.left, y: top - 6, width: frame.right - frame.left, height: layout.bottom - top + 24 };
  const stairs = lines.map((line) => ({ x: frame.left, y: line.top, width: frame.right - frame.left, height: STAIR }));
  const wishes = [...pauseWishes(year, frame, pauseY), ...closureWishes(year, layout, frame), ...dumpedWishes(layout, frame)];
  return placeLabels(wishes, bounds, [...limitBoxes, ...stairs, ...todayBox(frame)]);
}

/** The malt most made of each crop needs no letter on its runs: the lot's letter says it all. */
function usualMalts({ malthouse }: Year): Set<string> {
  const runs = new Map<string, Map<string, number>>();
  for (const { crop, maltId } of malthouse.runs) {
    const ofCrop = runs.get(crop) ?? new Map<string, number>();
    runs.set(crop, ofCrop.set(maltId, (ofCrop.get(maltId) ?? 0) + 1));
  }
  return new Set([...runs.values()].flatMap((ofCrop) => [...ofCrop].toSorted((a, b) => b[1] - a[1])[0]?.[0] ?? []));
}

/** A draughtsman's dimension line whose witness lines drop to the vessel that is the limit. */
function Dimension({ one, frame, layout }: { one: Limit; frame: Frame; layout: MalthouseLayout }): VNode {
  const left = c(frame.x(one.from)), right = c(frame.x(one.to + 1));
  const line = layout.lines.find(({ bed }) => bed === one.vessel.id) ?? layout.lines[0];
  const stage = one.vessel.stages[0] ?? "bed";
  const foot = (line?.top ?? one.y) + (stage === "steep" ? 0 : stage === "bed" ? TREADS.steep : TREADS.steep + TREADS.bed);
  return (
    <g class="limit" aria-hidden="true">
      <path d={`M${left} ${one.y}H${right}M${left} ${one.y - 4}V${c(foot)}M${right} ${one.y - 4}V${c(foot)}`} />
      <path d={`M${left - 2.5} ${one.y + 2.5}l5 -5M${right - 2.5} ${one.y + 2.5}l5 -5`} />
      <text x={c(middle(one, frame))} y={one.y - 4} text-anchor="middle" class="bold halo">{one.text}</text>
    </g>
  );
}

function middle({ from, to, text }: Limit, frame: Frame): number {
  const { width } = labelBox(text, { x: 0, y: 0 }, 11.5, true);
  const at = (frame.x(from) + frame.x(to + 1)) / 2;
  return Math.min(Math.max(at, frame.left + width / 2), frame.right - width / 2);
}

function pauses({ malthouse }: Year, frame: Frame, line: Line): string {
  return malthouse.pauses.filter(({ handOvers }) => handOvers.includes("steepIn"))
    .map(({ from, to }) => [frame.x(from), frame.x(to + 1)] as const)
    .filter(([left, right]) => right > left)
    .map(([left, right]) => `M${c(left)} ${line.top + 6}H${c(right)}`).join("");
}

function pauseWishes({ malthouse }: Year, frame: Frame, y: number): WordsWish[] {
  const seen: { reason: string; from: number; to: number }[] = [];
  for (const { reason, from, to } of malthouse.pauses.toSorted((a, b) => a.from - b.from)) {
    const same = seen.find((one) => one.reason === reason && from <= one.to + 4);
    if (same === undefined) seen.push({ reason, from, to });
    else same.to = Math.max(same.to, to);
  }
  const shown = seen.filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay);
  const middles = shown.map(({ from, to }) => (frame.x(from) + frame.x(to + 1)) / 2);
  return shown.map(({ reason }, index): WordsWish => {
    const x = middles[index]!;
    const room = Math.min(x - (middles[index - 1] ?? -Infinity), (middles[index + 1] ?? Infinity) - x) - 6;
    const short = fewerWords(reason, room);
    const { width } = labelBox(short, { x: 0, y: 0 });
    const inside = Math.min(Math.max(x, frame.left + width / 2), frame.right - width / 2);
    return {
      text: short,
      look: "quiet halo",
      spots: [0, -14, 14, -28, 28].map((shift) => ({ x: inside + shift, y, anchor: "middle" as const })),
    };
  });
}

/** A reason, or its first word where the whole would stand nearer to the next pause than to its own. */
function fewerWords(reason: string, width: number): string {
  return labelBox(reason, { x: 0, y: 0 }).width <= width ? reason : reason.split(" ")[0]!;
}

function Closures({ year, line, frame }: { year: Year; line: Line; frame: Frame }): VNode {
  const boxes = closures(year, line, frame);
  return (
    <g class="closure">
      {boxes.map(({ x, y, width, height }) => (
        <path key={`${x}-${y}`} d={`M${c(x)} ${y}h${c(width)}v${height}h${c(-width)}Zl${c(width)} ${height}m0 ${-height}l${c(-width)} ${height}`} />
      ))}
    </g>
  );
}

function closures({ malthouse }: Year, line: Line, frame: Frame) {
  return malthouse.vessels.flatMap((vessel) =>
    vessel.closures.filter(({ start, end }) => end > frame.fromDay && start < frame.toDay).flatMap(({ start, end, reason }) => {
      const stage = vessel.stages[0] ?? "bed";
      if (stage === "bed" && vessel.id !== line.bed) return [];
      const y = line.top + (stage === "steep" ? 0 : stage === "bed" ? TREADS.steep : TREADS.steep + TREADS.bed);
      const x = frame.x(start);
      return [{ x, y: y + 1.5, width: frame.x(end) - x, height: TREADS[stage] - 3, reason }];
    })
  );
}

function closureWishes(year: Year, { lines, bottom }: MalthouseLayout, frame: Frame): WordsWish[] {
  return lines.flatMap((line) => closures(year, line, frame)).map(({ x, width, reason }): WordsWish => ({
    text: reason,
    look: "quiet halo",
    spots: [0, -20, 20].map((shift) => ({ x: x + width / 2 + shift, y: bottom + 9, anchor: "middle" })),
  }));
}

function dumpedWishes({ lines, bottom }: MalthouseLayout, frame: Frame): WordsWish[] {
  return lines.flatMap(({ runs }) => runs).filter(({ standing }) => standing === "dumped").map((run): WordsWish => {
    const from = run.stages[0]?.start ?? 0;
    return {
      text: `dumped ${shortDay(from)}`,
      look: "quiet halo",
      of: run.node,
      spots: [{ x: frame.x(from) + 10, y: bottom + 9, anchor: "middle" }, { x: frame.x(from) + 30, y: bottom + 9, anchor: "middle" }],
    };
  });
}
