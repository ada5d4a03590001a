import type { VNode } from "preact";
import type { RunMark } from "../../core/year/malthouse-band.ts";
import type { Stage } from "../../core/season/malthouse.ts";
import type { ReaderUnits } from "../../core/units.ts";
import { c, type Frame } from "./frame.ts";
import { standingClass } from "./Leaving.tsx";
import { STAIR, TREADS } from "./malthouse-layout.ts";
import { Mark } from "./Mark.tsx";
import { textWidth } from "./text-width.ts";
import { grain, malt, shortDay } from "./words.ts";

const OFFSET: Record<Stage, number> = { steep: 0, bed: TREADS.steep, kiln: TREADS.steep + TREADS.bed };

/**
 * One run as a stair. `short` is a small letter for a malt that is not the usual one of its crop, `follows` what it comes
 * after, `slack` how far it may slip, `old` what the plan before had otherwise; empty where there is no such thing.
 */
export function Run({ run, frame, top, short, follows, slack, old, units }: {
  run: RunMark;
  frame: Frame;
  top: number;
  short: string;
  follows: string;
  slack: string;
  old: string;
  units: ReaderUnits;
}): VNode | null {
  const first = run.stages[0], last = run.stages.at(-1);
  if (first === undefined || last === undefined || first.start >= frame.toDay || last.end <= frame.fromDay) {
    return null;
  }
  const treads = run.stages.map(({ stage, start, end }) => ({
    stage,
    left: frame.x(start),
    right: frame.x(end),
    y: top + OFFSET[stage],
    height: TREADS[stage],
  }));
  const bed = treads.find(({ stage }) => stage === "bed");
  const kiln = treads.find(({ stage }) => stage === "kiln");
  const now = frame.x(frame.todayDay);
  return (
    <>
      <Mark
        node={run.node}
        says={[says(run, units), follows, slack, old].filter((one) => one !== "").join("; ")}
        kind={`run ${standingClass(run.standing)}`}
      >
        {treads.map((tread) => (
          <path
            key={tread.stage}
            class="tread"
            d={outline(tread, run.standing === "under way" ? now : Infinity)}
          />
        ))}
        {run.standing === "under way" && (
          <path
            class="begun"
            d={treads.map((tread) => until(tread, now)).join("")}
          />
        )}
        <path
          class="nights"
          d={run.nights.map(({ start, end }) =>
            `M${c(frame.x(start))} ${top + STAIR + 2.5}h${c(Math.max(2, frame.x(end) - frame.x(start)))}`
          ).join("")}
        />
        {run.standing === "dumped" && bed !== undefined && <path class="dumped-cross" d={cross(bed)} />}
        {bed !== undefined && run.standing !== "dumped" && bed.right - bed.left > 6 && (
          <text
            class={run.standing === "under way" && now > (bed.left + bed.right) / 2 + 4
              ? "lot begun-lot"
              : "lot"}
            x={c((bed.left + bed.right) / 2)}
            y={bed.y + 12}
            text-anchor="middle"
            aria-hidden="true"
          >
            {fit(run.letters, bed.right - bed.left)}
          </text>
        )}
        <rect
          class="hit"
          x={c(frame.x(first.start))}
          y={top}
          width={c(Math.max(6, frame.x(last.end) - frame.x(first.start)))}
          height={STAIR}
        />
      </Mark>
      {/* Outside the mark: a screen reader hears the malt in the mark's own words. */}
      {short !== "" && kiln !== undefined && run.standing !== "dumped" && (
        <text
          class="malt-letter"
          x={c(kiln.left - 2.5)}
          y={kiln.y + 9.5}
          text-anchor="end"
          aria-hidden="true"
        >
          {/* Outside the mark: a screen reader hears the malt in the mark's own words. */}
          {short}
        </text>
      )}
    </>
  );
}

interface Tread {
  readonly left: number;
  readonly right: number;
  readonly y: number;
  readonly height: number;
}

/** A tread; where a run is under way, the tread that today cuts has no right edge there. */
function outline({ left, right, y, height }: Tread, now: number): string {
  if (left < now && now < right) return `M${c(now)} ${y}H${c(left)}v${height}H${c(now)}`;
  return `M${c(left)} ${y}H${c(right)}v${height}H${c(left)}Z`;
}

function until({ left, right, y, height }: Tread, now: number): string {
  const end = Math.min(right, now);
  return end > left ? `M${c(left)} ${y}H${c(end)}v${height}H${c(left)}Z` : "";
}

function cross({ left, right, y, height }: Tread): string {
  const x = (left + right) / 2, middle = y + height / 2;
  return `M${c(x - 3.5)} ${middle - 3.5}l7 7m0 -7l-7 7`;
}

/** Both letters of a run of two lots when they fit, else the first with a sign that there is more. */
function fit(letters: string, width: number): string {
  if (textWidth(letters, 11.5, true) <= width - 2) return letters;
  return letters.charAt(0);
}

function says(run: RunMark, units: ReaderUnits): string {
  const first = run.stages[0], last = run.stages.at(-1);
  const made = run.outputs.map(({ maltName, massG, readyDay }) =>
    `${malt(massG, units)} of ${maltName.toLowerCase()}, ${
      Number.isFinite(readyDay) ? `ready ${shortDay(readyDay)}` : "held back"
    }`
  );
  const days = first === undefined || last === undefined
    ? ""
    : `steep ${shortDay(first.start)}, off the kiln ${shortDay(last.end)}`;
  const nights = run.nights.length === 0
    ? ""
    : `, ${run.nights.length} kiln night${run.nights.length > 1 ? "s" : ""}`;
  return `Run ${run.number}, lot ${run.letters}, ${run.maltName.toLowerCase()}, ${days}${nights}, ${
    grain(run.drawnG, units, run.crop)
  } as in bin; ` +
    `${
      run.standing === "dumped"
        ? `dumped${run.note === "" ? "" : `: ${run.note}`}`
        : `${made.join(" and ")}; ${run.standing}`
    }`;
}
