import type { VNode } from "preact";
import type { Stage } from "../../core/season/malthouse.ts";
import { followsWords } from "../../core/year/run-follows.ts";
import type { Year } from "../../core/year/year.ts";
import { Empty } from "./Empty.tsx";
import { c, type Frame } from "./frame.ts";
import { Gaps } from "./Gaps.tsx";
import { TYPE } from "./label-placement.ts";
import { type Limit, type Line, type MalthouseLayout, STAIR, TREADS } from "./malthouse-layout.ts";
import { closedBoxes, maltLetters } from "./malthouse-words.ts";
import { OldLane, OldStair } from "./Old.tsx";
import { oldRunsOf } from "./old-layout.ts";
import { Run } from "./Run.tsx";
import { wrap } from "./text-width.ts";
import { Figure, RowName } from "./Words.tsx";
import { Worth } from "./Worth.tsx";

/** Malthouse: each run one stair from steep to bed to kiln; the corner shared by two treads is the hand-over. */
export function MalthouseBand({ year, frame, layout }: {
  year: Year;
  frame: Frame;
  layout: MalthouseLayout;
}): VNode {
  const { top, lines, limits } = layout;
  const letters = maltLetters(year);
  const slack = new Map(year.runSlack.map(({ runId, words }) => [runId, words]));
  return (
    <g class="band malthouse" role="group" aria-label="Malthouse">
      <RowName lines={["Malthouse"]} full="Malthouse" y={top + 12} bold />
      {year.malthouse.runs.length === 0 && lines.length === 0 && (
        <Empty words="Each run will be one stair from steep to bed to kiln." y={top + 12} frame={frame} />
      )}
      {lines.map((line) => (
        <g key={line.bed}>
          {lines.length > 1 && (
            <RowName lines={wrap(line.name, [100, 100], TYPE)} full={line.name} y={line.top + 24} />
          )}
          {STAGES.map(({ stage, y }) => {
            const full = isFull(stage, line, limits);
            return <Figure key={stage} text={full ? `${stage}, full` : stage} y={line.top + y} bold={full} />;
          })}
          <Gaps year={year} line={line} frame={frame} />
          <Closures year={year} line={line} frame={frame} />
          {line.runs.map((run) => (
            <Run
              key={run.id}
              {...{ run, frame, units: year.units }}
              top={line.top}
              short={letters.get(run.maltId) ?? ""}
              slack={slack.get(run.id) ?? ""}
              follows={followsWords(year, run)}
              old={year.oldDays.runs.find(({ id }) => id === run.id)?.words ?? ""}
            />
          ))}
          <OldRuns year={year} line={line} frame={frame} />
          <path class="ground" d={`M${frame.left} ${line.top + STAIR}H${c(frame.right)}`} />
        </g>
      ))}
      {lines[0] !== undefined && <path class="pause" d={pauses(year, frame, lines[0])} />}
      {limits.map((one) => <Dimension key={`${one.vessel.id}-${one.from}`} {...{ one, frame, layout }} />)}
      {layout.worth !== null && <Worth year={year} frame={frame} strip={layout.worth} />}
    </g>
  );
}

/** Where runs of this row lay in the plan before. */
function OldRuns({ year, line, frame }: { year: Year; line: Line; frame: Frame }): VNode {
  const { ghosts, lane } = oldRunsOf(year, line, frame);
  const nodes = new Map(year.malthouse.runs.map(({ id, node }) => [id, node]));
  return (
    <>
      {ghosts.map((old, at) => (
        <OldStair key={at} {...{ old, frame }} node={nodes.get(old.id ?? "")} top={line.top} />
      ))}
      <OldLane lane={lane} foot={line.top - 1} />
    </>
  );
}

/** Base lines of the names of the treads. */
const STAGES = [{ stage: "steep", y: 9.5 }, { stage: "bed", y: 24 }, { stage: "kiln", y: 38 }] as const;

/** True when a vessel of this stage is the limit of the year: its tread is named so. */
function isFull(stage: Stage, line: Line, limits: readonly Limit[]): boolean {
  return limits.some(({ vessel }) =>
    vessel.stages.includes(stage) && (stage !== "bed" || vessel.id === line.bed)
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
      <path class="heavy" d={`M${c(left - 3)} ${c(one.y + 3)}l6 -6M${c(right - 3)} ${c(one.y + 3)}l6 -6`} />
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
