import { c, type Frame } from "./frame.ts";

/** Strokes of a growing crop, one path for each way of drawing them. */
export interface DrillRows {
  /** Until today, from now on, and the last six weeks before harvest. */
  readonly grown: string;
  readonly growing: string;
  readonly ripening: string;
}

/** Days from drilling until rows can be seen; common practice, no source, used for the drawing only. */
const EMERGENCE_DAYS = 9;
const RIPENING_DAYS = 42;
const SEEDLING_HEIGHT = 2.2;
/** No crop is drawn taller than this. */
export const TALLEST = 15;

/**
 * Drill rows from bare to dense: strokes stand closer and taller as the crop grows. While winter can still take it
 * every stroke is broken in the middle, and sits on the ground only with its foot.
 */
export function drillRows(frame: Frame, crop: {
  readonly drillDay: number;
  readonly harvestDay: number;
  readonly atRiskUntil: number | null;
  readonly ground: number;
  readonly height: number;
}): DrillRows {
  const paths = { grown: "", growing: "", ripening: "" };
  const from = Math.max(crop.drillDay + EMERGENCE_DAYS, frame.fromDay);
  const to = Math.min(crop.harvestDay, frame.toDay);
  const life = Math.max(1, crop.harvestDay - crop.drillDay);
  for (let day = from; day < to;) {
    const age = (day - crop.drillDay) / life;
    const height = drillHeight(age, crop.height);
    const kind = day >= crop.harvestDay - RIPENING_DAYS
      ? "ripening"
      : day < frame.todayDay
      ? "grown"
      : "growing";
    const risky = crop.atRiskUntil !== null && day < crop.atRiskUntil && day >= frame.todayDay;
    paths[kind] += stroke(frame.x(day), crop.ground, height, risky);
    day += (5.6 - 2.9 * age) / frame.dayWidth;
  }
  return paths;
}

/** Height of a stroke when a part `age` of the crop's life is over; `full` is how high it stands at harvest. */
export function drillHeight(age: number, full = TALLEST): number {
  return SEEDLING_HEIGHT + (full - SEEDLING_HEIGHT) * age ** 2.4;
}

function stroke(x: number, ground: number, height: number, broken: boolean): string {
  if (!broken) return `M${c(x)} ${ground}v${c(-height)}`;
  const piece = c(-height * 0.34);
  return `M${c(x)} ${ground}v${piece}m0 ${piece}v${piece}`;
}
