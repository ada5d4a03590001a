import { worthMeasure, worthShare } from "../../core/year/run-worth.ts";
import type { Year } from "../../core/year/year.ts";
import type { Frame } from "./frame.ts";
import type { Box } from "./label-placement.ts";
import { textWidth } from "./text-width.ts";
import { malt } from "./words.ts";

/** Height of the strip of what one more run is worth, and the air above it. */
export const STRIP = 9;
const AIR = 2.5;
/** A week in which nothing is gained is a point on the ground line. */
const POINT = 1;

/** Where the strip stands under the malthouse. */
export interface WorthStrip {
  /** Its ground line. */
  readonly ground: number;
  readonly bottom: number;
}

/** The strip under the malthouse that ends at `bottom`; null while no week has been tried. */
export function layoutWorth({ runWorth }: Year, bottom: number): WorthStrip | null {
  if (runWorth.length === 0) return null;
  const ground = bottom + AIR + STRIP;
  return { ground, bottom: ground + 1 };
}

/** The weeks as upright boxes on the ground line, as wide as their days less a gap. */
export function worthBoxes(
  { runWorth }: Year,
  { ground }: WorthStrip,
  frame: Frame,
): (Box & { none: boolean })[] {
  return runWorth.filter(({ day }) => day >= frame.fromDay && day < frame.toDay).map((one) => {
    const x = frame.x(one.day), width = Math.max(2, frame.x(one.day + 7) - x - 1.5);
    const height = one.isNoise ? POINT : worthShare(one, runWorth) * STRIP;
    return { x, y: ground - height, width, height, none: one.isNoise };
  });
}

/** What the highest week of the strip stands for, beside it where there is room; empty where there is none. */
export function worthScaleWords({ runWorth, units }: Year, frame: Frame): string {
  const measure = worthMeasure(runWorth);
  const first = runWorth[0];
  if (measure === null || first === undefined) return "";
  const most = Math.max(...runWorth.map((one) => one[measure]));
  const much = measure === "homeMaltG"
    ? `${malt(most, units, "short")} less bought malt`
    : `${most} more ${measure === "brews" ? "brew" : "promise"}${most === 1 ? "" : "s"}`;
  const words = `what it is worth by week: at most ${much}`;
  const room = worthWordsEnd(frame, first.day) - frame.left - 4;
  return [words, `at most ${much}`].find((one) => textWidth(one, 11.5) <= room) ?? "";
}

/** Where the words before the strip end: before its first week, and before today's rule. */
export function worthWordsEnd({ x, todayDay }: Frame, firstDay: number): number {
  return Math.min(x(firstDay), x(todayDay)) - 6;
}

/** Left end of what the strip takes, its words included; Infinity where there is no strip. */
export function worthLeft(year: Year, frame: Frame): number {
  const first = year.runWorth[0];
  return first === undefined
    ? Infinity
    : worthWordsEnd(frame, first.day) - textWidth(worthScaleWords(year, frame), 11.5);
}
