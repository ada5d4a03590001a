import type { Crop } from "../../core/season/quantity.ts";
import { c } from "./frame.ts";
import type { Step } from "./steps.ts";

/**
 * The textures of the section as plain strokes. A browser prints an SVG pattern as a coarse picture, which a grey
 * printer turns into mush; strokes stay strokes, and no sign is ever cut in half by a level line.
 */

/** How grain is drawn in a bin: not yet awake, ready and recorded, ready and planned, good for feed only, or locked. */
export const GRAIN_STATES = ["asleep", "done", "planned", "feed", "locked"] as const;
export type GrainState = (typeof GRAIN_STATES)[number];

/** The ground that a texture fills: from its level lines down to `floor`, between two places of the axis. */
export interface Ground {
  readonly steps: readonly Step[];
  readonly left: number;
  readonly right: number;
  readonly floor: number;
}

/** A sign drawn around the middle of its place, how far it reaches to each side, and how wide apart signs stand. */
interface Sign {
  readonly d: string;
  readonly reach: number;
  readonly rise: number;
  readonly pitch: number;
}

/** Each crop is bound to its own sign, so that none is told by colour alone. */
const SIGNS: Record<Crop, Sign> = {
  barley: { d: "h.01", reach: 0.8, rise: 0.8, pitch: 10 },
  wheat: { d: "m-2.2 1.2 2.2-2.4 2.2 2.4", reach: 2.4, rise: 1.5, pitch: 14 },
  rye: { d: "m-1 1.5 2-3", reach: 1.2, rise: 1.6, pitch: 9 },
  oats: { d: "m1.4 0a1.4 1.4 0 1 1 0-.01Z", reach: 1.8, rise: 1.6, pitch: 11 },
};
/** What a lot is barred to be stands over what it is: crosses for feed only, upright bars as of a gate for locked. */
const BARRED: Partial<Record<GrainState, Sign>> = {
  feed: { d: "m-1.8-1.8 3.6 3.6m0-3.6-3.6 3.6", reach: 2, rise: 1.9, pitch: 7 },
  locked: { d: "m0-2.2v4.4", reach: 0.9, rise: 2.2, pitch: 3.5 },
};

/** Rows of signs stand this far apart. */
const ROW = 4.4;

/**
 * The signs of a crop wherever one fits whole, each second row moved by half a pitch; close crosses or bars, row over row,
 * where grain is good for feed only or locked.
 */
export function signs(ground: Ground, crop: Crop, state: GrainState): string {
  const barred = BARRED[state];
  const { d, reach, rise, pitch } = barred ?? SIGNS[crop];
  const { left, right, floor } = ground;
  const height = sampler(ground);
  const column = barred ? pitch : pitch / 2;
  let path = "";
  for (let x = Math.ceil((left + reach) / column) * column; x <= right - reach; x += column) {
    const odd = barred ? 0 : Math.round(x / column) % 2;
    const room = Math.min(height(x - reach), height(x), height(x + reach));
    // The first row is low enough for the shallowest grain; the others stand over it on their own line.
    for (let row = odd;; row += barred ? 1 : 2) {
      const up = rise + 0.7 + row * ROW;
      if (up + rise + 0.6 > room) break;
      path += `M${c(x)} ${c(floor - up)}${d}`;
    }
  }
  return path;
}

const HATCH_PITCH = 6;

/** Slanting lines from a floor up to the level, such as over malt that rests. */
export function hatch(ground: Ground): string {
  const { left, right, floor, steps } = ground;
  const height = sampler(ground);
  const most = Math.max(0, ...steps.map(({ y }) => floor - y));
  let path = "";
  for (let foot = Math.floor((left - most) / HATCH_PITCH) * HATCH_PITCH; foot < right; foot += HATCH_PITCH) {
    let from: number | null = null;
    for (let up = 0; up <= most + 1; up += 1) {
      const x = foot + up;
      const inside = x >= left && x <= right && up <= height(x);
      if (inside && from === null) from = up;
      if (!inside && from !== null) {
        const long = up - 1 - from;
        if (long > 0.5) path += `M${c(foot + from)} ${c(floor - from)}l${c(long)} ${c(-long)}`;
        from = null;
      }
    }
  }
  return path;
}

const RULE_PITCH = 3.4;

/** Level lines under a level, such as in malt that was bought. */
export function rules({ steps, right, floor }: Ground): string {
  const most = Math.max(0, ...steps.map(({ y }) => floor - y));
  let path = "";
  for (let up = RULE_PITCH / 2; up < most; up += RULE_PITCH) {
    for (const [index, { x, y }] of steps.entries()) {
      if (floor - y <= up) continue;
      const before = steps[index - 1];
      const goesOn = before !== undefined && floor - before.y > up;
      const end = c(steps[index + 1]?.x ?? right);
      path += goesOn ? `H${end}` : `M${c(x)} ${c(floor - up)}H${end}`;
    }
  }
  return path;
}

/** Reads the height over the floor at a place; nothing stands left of the first step. */
function sampler({ steps, left, right, floor }: Ground): (x: number) => number {
  return (x) => {
    if (x < left || x > right) return 0;
    let low = 0, high = steps.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (steps[middle]!.x <= x) low = middle + 1;
      else high = middle;
    }
    return low === 0 ? 0 : floor - steps[low - 1]!.y;
  };
}
