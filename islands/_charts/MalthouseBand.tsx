import type { VNode } from "preact";
import type { Year } from "../../core/year/year.ts";
import { Empty } from "./Empty.tsx";
import { c, type Frame } from "./frame.ts";
import type { Placed } from "./label-placement.ts";
import { type Limit, type Line, type MalthouseLayout, STAIR, TREADS } from "./malthouse-layout.ts";
import { closedBoxes, middleOf } from "./malthouse-words.ts";
import { Run } from "./Run.tsx";
import { clip } from "./text-width.ts";
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
      {year.malthouse.runs.length === 0 && lines.length === 0 && (
        <Empty words="Each run will be one stair from steep to bed to kiln." y={top + 12} frame={frame} />
      )}
      {lines.map((line) => (
        <g key={line.bed}>
          {lines.length > 1 && (
            <RowName
              name={clip(line.name, 90, 11.5)}
              full={line.name}
              y={line.top + 24}
            />
          )}
          <Figure text="steep" y={line.top + 9.5} />
          <Figure text="bed" y={line.top + 24} />
          <Figure text="kiln" y={line.top + 38} />
          <Closures year={year} line={line} frame={frame} />
          {line.runs.map((run) => (
            <Run
              key={run.id}
              {...{ run, frame, units: year.units }}
              top={line.top}
              short={usual.has(run.maltId) ? "" : run.maltName.charAt(0).toLowerCase()}
            />
          ))}
          <path class="ground" d={`M${frame.left} ${line.top + STAIR}H${c(frame.right)}`} />
        </g>
      ))}
      {lines[0] !== undefined && <path class="pause" d={pauses(year, frame, lines[0])} />}
      {limits.map((one) => <Dimension key={`${one.vessel.id}-${one.from}`} {...{ one, frame, layout }} />)}
      <Words placed={words} />
    </g>
  );
}

/** The malt most made of each crop needs no letter on its runs: the lot's letter says it all. */
function usualMalts({ malthouse }: Year): Set<string> {
  const runs = new Map<string, Map<string, number>>();
  for (const { crop, maltId } of malthouse.runs) {
    const ofCrop = runs.get(crop) ?? new Map<string, number>();
    runs.set(crop, ofCrop.set(maltId, (ofCrop.get(maltId) ?? 0) + 1));
  }
  return new Set(
    [...runs.values()].flatMap((ofCrop) => [...ofCrop].toSorted((a, b) => b[1] - a[1])[0]?.[0] ?? []),
  );
}

/** A draughtsman's dimension line whose witness lines drop to the vessel that is the limit. */
function Dimension({ one, frame, layout }: { one: Limit; frame: Frame; layout: MalthouseLayout }): VNode {
  const left = c(frame.x(one.from)), right = c(frame.x(one.to + 1));
  const line = layout.lines.find(({ bed }) => bed === one.vessel.id) ?? layout.lines[0];
  const stage = one.vessel.stages[0] ?? "bed";
  const foot = (line?.top ?? one.y) +
    (stage === "steep" ? 0 : stage === "bed" ? TREADS.steep : TREADS.steep + TREADS.bed);
  return (
    <g class="limit" aria-hidden="true">
      <path
        d={`M${left} ${one.y}H${right}M${left} ${one.y - 4}V${c(foot)}M${right} ${one.y - 4}V${c(foot)}`}
      />
      <path d={`M${left - 2.5} ${one.y + 2.5}l5 -5M${right - 2.5} ${one.y + 2.5}l5 -5`} />
      <text x={c(middleOf(one, frame))} y={one.y - 4} text-anchor="middle" class="bold halo">{one.text}</text>
    </g>
  );
}

function pauses({ malthouse }: Year, frame: Frame, line: Line): string {
  return malthouse.pauses.filter(({ handOvers }) => handOvers.includes("steepIn"))
    .map(({ from, to }) => [frame.x(from), frame.x(to + 1)] as const)
    .filter(([left, right]) => right > left)
    .map(([left, right]) => `M${c(left)} ${line.top + 6}H${c(right)}`).join("");
}

function Closures({ year, line, frame }: { year: Year; line: Line; frame: Frame }): VNode {
  const boxes = closedBoxes(year, line, frame);
  return (
    <g class="closure">
      {boxes.map(({ x, y, width, height }) => (
        <path
          key={`${x}-${y}`}
          d={`M${c(x)} ${y}h${c(width)}v${height}h${c(-width)}Zl${c(width)} ${height}m0 ${-height}l${
            c(-width)
          } ${height}`}
        />
      ))}
    </g>
  );
}
