import type { VNode } from "preact";
import type { OldBrew, OldRun } from "../../core/year/old-days.ts";
import { upperFirst } from "../../core/year/words.ts";
import { STICK } from "./brews-layout.ts";
import { c, type Frame } from "./frame.ts";
import { TREADS } from "./malthouse-layout.ts";
import type { Lane } from "./old-layout.ts";

/** How far outside a thing its old outline stands: where something else lies now, both are seen. */
const OUTSIDE = 1.4;

/** Where a run lay: the profile of its stair in a draughtsman's chain line, without treads, fill or letter. */
export function OldStair({ old, node, frame, top }: {
  old: OldRun;
  /** The run in the trace, as it is now. */
  node: string | undefined;
  frame: Frame;
  top: number;
}): VNode {
  return (
    <Old node={node} says={`${upperFirst(old.name)}: ${old.words}`} isGone={old.became === "gone"}>
      <path class="was" d={stairProfile(old.was, frame, top)} />
    </Old>
  );
}

/** Foot of the steep, up and over every tread to the foot of the kiln. */
export function stairProfile(was: OldRun["was"], frame: Frame, top: number): string {
  let y = top - OUTSIDE;
  let path = `M${c(frame.x(was[0]!.start) - OUTSIDE)} ${c(top + TREADS.steep)}V${c(y)}`;
  for (const { stage, end } of was) {
    y += TREADS[stage];
    path += `H${c(frame.x(end) + OUTSIDE)}V${c(stage === "kiln" ? y + OUTSIDE : y)}`;
  }
  return path;
}

/** Where a brew stood. */
export function OldStick({ old, node, frame, ground, width }: {
  old: OldBrew;
  node: string | undefined;
  frame: Frame;
  ground: number;
  width: number;
}): VNode {
  const left = c(frame.x(old.was ?? old.day) - OUTSIDE), top = c(ground - STICK - OUTSIDE);
  return (
    <Old node={node} says={`${old.name}: ${old.words}`} isGone={old.became === "gone" && node === undefined}>
      <path class="was" d={`M${left} ${ground}V${top}h${c(width + 2 * OUTSIDE)}V${ground}`} />
    </Old>
  );
}

/** What has no mark of its own any more is told here; of the rest its mark tells where it was. */
function Old({ node, says, isGone, children }: {
  node: string | undefined;
  says: string;
  isGone: boolean;
  children: VNode;
}): VNode {
  return (
    <g
      class="old"
      data-of={node}
      {...isGone ? { role: "img", "aria-label": says } : { "aria-hidden": "true" }}
    >
      <title>{says}</title>
      {children}
    </g>
  );
}

/** Hair lines from old places to new ones, and the signs of what is new or gone; things begin at `foot`. */
export function OldLane({ lane: { links, signs }, foot }: { lane: Lane; foot: number }): VNode | null {
  if (links.length + signs.length === 0) return null;
  const y = (level: number) => c(foot - 4.5 - level * 3);
  return (
    <g class="old" aria-hidden="true">
      <path
        class="way"
        d={links.map(({ from, to, level }) =>
          `M${c(from)} ${c(foot - 1)}V${y(level)}H${c(to)}V${c(foot - 2)}`
        ).join("")}
      />
      <path
        class="tip"
        d={links.map(({ to }) => `M${c(to - 1.7)} ${c(foot - 3.4)}h3.4L${c(to)} ${c(foot - 0.2)}Z`).join("")}
      />
      <path class="sign" d={signs.map(({ kind, x }) => signPath(kind, x + 2, foot - 3.6)).join("")} />
    </g>
  );
}

/** A plus of what is new, a cross of what is gone, around a point. */
export function signPath(kind: "new" | "gone", x: number, y: number): string {
  return kind === "new"
    ? `M${c(x - 2.4)} ${c(y)}h4.8m-2.4 -2.4v4.8`
    : `M${c(x - 1.9)} ${c(y - 1.9)}l3.8 3.8m0 -3.8l-3.8 3.8`;
}
