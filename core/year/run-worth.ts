import { dayWords } from "./words.ts";

/**
 * What room for one run more, started in a week, would bring: the difference to a plan that was made anew with that room in the
 * season. Nothing is multiplied out.
 */
export interface RunWorth {
  /** First day of the farm's week. */
  readonly day: number;
  /** Brews, home-share promises and grams of home malt that the plan made anew has more. */
  readonly brews: number;
  readonly promises: number;
  readonly homeMaltG: number;
  /** "1 more brew and 320 kg less bought malt", or that there is no measurable gain. */
  readonly words: string;
  /** Not told from the search's own noise. */
  readonly isNoise: boolean;
}

/** How far a run may slip, and what stops it: "may slip 2 days: Amber of 3 Mar would take bought malt". */
export interface RunSlackWords {
  readonly runId: string;
  readonly words: string;
}

/** What is known of the runs by trying other plans, beside what the plan itself says of them. */
export interface RunsExplained {
  readonly weeks: readonly RunWorth[];
  readonly slack: readonly RunSlackWords[];
}

/** Nothing is known yet. */
export const NOTHING_EXPLAINED: RunsExplained = { weeks: [], slack: [] };

/** What is counted in a strip of weeks. */
export type WorthMeasure = "brews" | "promises" | "homeMaltG";

const MEASURES: readonly WorthMeasure[] = ["brews", "promises", "homeMaltG"];

/** A gain that is none by the strip's own measure is still seen: this part of the most. */
const LEAST_SHARE = 0.2;

/** The first of brews, promises and home malt of which some week brings more: what the strip's heights count. Null where none does. */
export function worthMeasure(weeks: readonly RunWorth[]): WorthMeasure | null {
  return MEASURES.find((measure) => weeks.some((one) => !one.isNoise && one[measure] > 0)) ?? null;
}

/** How high a week stands in the strip: 0 where nothing is gained, 1 where most is. */
export function worthShare(one: RunWorth, weeks: readonly RunWorth[]): number {
  if (one.isNoise) return 0;
  const measure = worthMeasure(weeks);
  if (measure === null) return LEAST_SHARE;
  return Math.max(LEAST_SHARE, one[measure] / Math.max(...weeks.map((each) => each[measure])));
}

/** The week that brings most, the earliest of several; null where none brings anything. */
export function bestWeek(weeks: readonly RunWorth[]): RunWorth | null {
  const gains = weeks.filter((one) => !one.isNoise);
  return gains.toSorted((a, b) =>
    b.brews - a.brews || b.promises - a.promises || b.homeMaltG - a.homeMaltG || a.day - b.day
  )[0] ?? null;
}

/** The strip in a sentence; empty where no week has been tried. */
export function runWorthWords(weeks: readonly RunWorth[]): string {
  if (weeks.length === 0) return "";
  const best = bestWeek(weeks);
  const idle = weeks.filter((one) => one.isNoise).length;
  if (best === null) return `One run more would bring nothing measurable in any of ${weeks.length} weeks.`;
  const none = idle === 0 ? "" : `; in ${idle} of ${weeks.length} weeks it would bring nothing measurable`;
  return `One run more would bring most in the week of ${dayWords(best.day)}: ${best.words}${none}.`;
}
