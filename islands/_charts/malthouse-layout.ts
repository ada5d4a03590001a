import type { RunMark, VesselRow } from "../../core/year/malthouse-band.ts";
import { upperFirst } from "../../core/year/words.ts";
import type { Year } from "../../core/year/year.ts";
import type { Frame } from "./frame.ts";
import { runLane } from "./old-layout.ts";
import { layoutWorth, type WorthStrip } from "./worth-layout.ts";

/** Heights of the three treads of a stair, from steep down to kiln. */
export const TREADS = { steep: 12, bed: 16, kiln: 13 } as const;
export const STAIR = TREADS.steep + TREADS.bed + TREADS.kiln;
const LINE_GAP = 10;
const NIGHT = 5;
/** From one dimension line to the next. */
const LEVEL = 16;

/** A line of vessels: what is drawn as one row of stairs, named after the bed its runs go through. */
export interface Line {
  readonly bed: string;
  readonly name: string;
  /** Top of the steep tread. */
  readonly top: number;
  readonly runs: readonly RunMark[];
}

/** A limit as a dimension line, on one of several levels above the stairs. */
export interface Limit {
  readonly vessel: VesselRow;
  readonly from: number;
  readonly to: number;
  readonly words: string;
  readonly text: string;
  readonly y: number;
}

export interface MalthouseLayout {
  readonly top: number;
  readonly bottom: number;
  /** Where the stairs end, nights included. */
  readonly stairsBottom: number;
  /** What one more run is worth by week, under the stairs; null while nothing is known of it. */
  readonly worth: WorthStrip | null;
  readonly lines: readonly Line[];
  readonly limits: readonly Limit[];
  /** Base line of the words for pauses. */
  readonly pauseY: number;
}

/** Which runs share a row of stairs, and how many levels of dimension lines stand above them. */
export function layoutMalthouse(year: Year, frame: Frame, top: number): MalthouseLayout {
  const { malthouse, oldDays } = year;
  const lane = runLane(year);
  const limits = levels(malthouse.vessels, frame, top + 4);
  const levelCount = new Set(limits.map(({ y }) => y)).size;
  const pauseY = top + Math.max(1, levelCount) * LEVEL + 9;
  const beds = malthouse.vessels.filter(({ stages }) => stages.includes("bed"));
  const used = new Set([
    ...malthouse.runs.map(bedOf),
    ...oldDays.runs.map(({ was }) => bedOf({ stages: was })),
  ]);
  const shown = beds.filter(({ id }) => used.has(id));
  let y = pauseY + 4 + lane;
  const lines = (shown.length > 0 ? shown : beds.slice(0, 1)).map((bed): Line => {
    const line = {
      bed: bed.id,
      name: bed.name,
      top: y,
      runs: malthouse.runs.filter((run) => bedOf(run) === bed.id),
    };
    y += STAIR + LINE_GAP + lane;
    return line;
  });
  const stairsBottom = y - LINE_GAP - lane + NIGHT;
  const worth = layoutWorth(year, stairsBottom);
  return { top, bottom: worth?.bottom ?? stairsBottom, stairsBottom, worth, lines, limits, pauseY };
}

function bedOf({ stages }: Pick<RunMark, "stages">): string {
  return stages.find(({ stage }) => stage === "bed")?.vesselId ?? "";
}

/** Stretches in which a vessel is the limit, longest first; those that meet in time go one level higher. */
function levels(vessels: readonly VesselRow[], frame: Frame, top: number): Limit[] {
  const all = vessels.flatMap((vessel) => vessel.full.map((one) => ({ vessel, ...one })))
    .filter(({ from, to }) => to >= frame.fromDay && from < frame.toDay)
    .toSorted((a, b) => (b.to - b.from) - (a.to - a.from));
  const rows: { from: number; to: number }[][] = [];
  return all.map((one) => {
    const free = rows.findIndex((row) => row.every(({ from, to }) => one.to < from || one.from > to));
    const level = free === -1 ? rows.push([]) - 1 : free;
    rows[level]?.push(one);
    const { vessel, from, to, words, text } = one;
    return { vessel, from, to, words: upperFirst(words), text: upperFirst(text), y: top + level * LEVEL + 9 };
  });
}
