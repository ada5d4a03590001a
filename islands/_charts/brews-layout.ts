import type { BrewMark } from "../../core/year/brews-band.ts";
import type { Year } from "../../core/year/year.ts";
import { c, type Frame } from "./frame.ts";
import { brewLane } from "./old-layout.ts";

/** Height of a stick, and the width it has when brews stand apart. */
export const STICK = 19;
export const TANK_PITCH = 2.2;
const LETTERS = 28;

/** A brew with its place: sticks of one day stand side by side. */
export interface Stick {
  readonly brew: BrewMark;
  readonly left: number;
  readonly width: number;
}

export interface BrewsLayout {
  readonly top: number;
  readonly bottom: number;
  /** The line the sticks stand on. */
  readonly ground: number;
  /** The rule under the last tank: what does not fit falls through it. */
  readonly tankRule: number;
  /** Height kept free over the sticks for what leads from old days to new ones. */
  readonly lane: number;
  readonly sticks: readonly Stick[];
  readonly deepest: number;
}

/** Where sticks, tanks and the tank rule stand. */
export function layoutBrews(year: Year, frame: Frame, top: number): BrewsLayout {
  const { brews, tanks } = year;
  const lane = brewLane(year);
  const ground = Math.round(top + LETTERS + lane + STICK);
  const tankRule = c(ground + 2 + Math.max(1, tanks.tanks.length) * TANK_PITCH + 1.5);
  const over = Math.max(0, ...tanks.clashes.map(({ asked, open }) => asked - open));
  return {
    top,
    ground,
    tankRule,
    lane,
    sticks: sticksOf(brews, frame),
    deepest: over,
    bottom: tankRule + (over > 0 ? Math.max(13, over * TANK_PITCH + 4) : 3),
  };
}

/** Width of a stick when brews stand apart. */
export function stickWidth({ dayWidth }: Frame): number {
  return Math.min(4, Math.max(2, dayWidth * 1.6));
}

function sticksOf(brews: readonly BrewMark[], frame: Frame): Stick[] {
  const usual = stickWidth(frame);
  const sticks: Stick[] = [];
  const shown = brews.filter(({ day }) => day >= frame.fromDay && day < frame.toDay).toSorted((a, b) =>
    a.day - b.day
  );
  for (const [index, brew] of shown.entries()) {
    const before = sticks.at(-1);
    const next = shown[index + 1];
    const gap = next === undefined ? usual : frame.x(next.day) - frame.x(brew.day);
    // On crowded days a stick gives up a little of its width before it gives up its day.
    const width = gap > 0 && gap < usual + 0.8 ? Math.max(1.8, gap - 0.6) : usual;
    const left = Math.max(
      frame.x(brew.day),
      before === undefined ? -Infinity : before.left + before.width + 0.6,
    );
    sticks.push({ brew, left: c(Math.min(left, frame.right - width)), width: c(width) });
  }
  return sticks;
}
