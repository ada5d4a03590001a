import type { VNode } from "preact";
import type { GapCause } from "../../core/year/malthouse-band.ts";
import type { Year } from "../../core/year/year.ts";
import { c, type Frame } from "./frame.ts";
import { type Line, TREADS } from "./malthouse-layout.ts";

/** Clear space left of and right of a mark, so that it does not touch the stairs. */
const AIR = 1;

/**
 * The time between two loads of a bed, marked by what keeps a further run out of it, so that no part of a bed that is full
 * looks free: slanting strokes where it is cleaned and then too short, level ones where nobody is there, a cross where a
 * vessel is closed. What stays white is open.
 */
export function Gaps({ year, line, frame }: { year: Year; line: Line; frame: Frame }): VNode {
  const vessel = year.malthouse.vessels.find(({ id }) => id === line.bed);
  const paths = new Map<GapCause, string>();
  for (const { start, end, cause } of vessel?.gaps ?? []) {
    if (end <= frame.fromDay || start >= frame.toDay) continue;
    const box = { left: frame.x(start) + AIR, right: frame.x(end) - AIR, top: line.top + TREADS.steep + 2 };
    paths.set(cause, (paths.get(cause) ?? "") + gapMark(cause, { ...box, bottom: box.top + TREADS.bed - 4 }));
  }
  return (
    <g class="gaps" aria-hidden="true">
      {[...paths].map(([cause, d]) => <path key={cause} class={`gap ${cause.replace(" ", "-")}`} d={d} />)}
    </g>
  );
}

/** The ground of one gap. */
export interface GapBox {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The strokes that fill a gap of a cause. */
export function gapMark(cause: GapCause, box: GapBox): string {
  const { left, right, top, bottom } = box;
  if (right <= left) return "";
  if (cause === "closed") {
    return `M${c(left)} ${c(top)}H${c(right)}V${c(bottom)}H${c(left)}ZL${c(right)} ${c(bottom)}M${c(right)} ${
      c(top)
    }L${c(left)} ${c(bottom)}`;
  }
  if (cause === "nobody there") {
    return [0, 1, 2].map((row) => `M${c(left)} ${c(top + (row + 0.5) * (bottom - top) / 3)}H${c(right)}`)
      .join("");
  }
  return slanting(box, cause === "taken" ? -1 : 1);
}

const PITCH = 3;

/** Strokes at 45 degrees, cut at the edges of the box; `way` -1 leans them to the left. */
function slanting({ left, right, top, bottom }: GapBox, way: 1 | -1): string {
  const width = right - left, height = bottom - top;
  let path = "";
  for (let foot = -height + PITCH / 2; foot < width; foot += PITCH) {
    const from = Math.max(0, foot), to = Math.min(width, foot + height);
    if (to - from < 0.6) continue;
    const x = (at: number) => way === 1 ? left + at : right - at;
    path += `M${c(x(from))} ${c(bottom - (from - foot))}L${c(x(to))} ${c(bottom - (to - foot))}`;
  }
  return path;
}
