import { formatDay } from "../../core/day-names.ts";
import type { Explanation } from "../../core/explain/explanation.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Finding } from "../../core/season/check.ts";
import type { MovedNews } from "../_moved.ts";
import type { Season } from "../../core/season/season.ts";
import { drawParts, partsOf } from "../../core/year/draw.ts";
import { type Flow, flowIn } from "../../core/year/flow.ts";
import { type NextLine, nextLine } from "../../core/year/next.ts";
import { type SentencePart, yearSentence } from "../../core/year/sentence.ts";
import { type Shortfall, shortfallsIn } from "../../core/year/shortfalls.ts";
import type { Year } from "../../core/year/year.ts";

/** What the pages of a year are made from. */
export interface YearProps {
  readonly season: Season;
  readonly findings: readonly Finding[];
  readonly plan: Plan | null;
  readonly state: "planning" | "planned" | "older" | "failed";
  /** The farm's now, local, as a season has it. */
  readonly asOf: string;
  /** What has moved since the plan before this one, and why. */
  readonly news?: MovedNews | null;
  /** What is known of why the plan is as it is. */
  readonly explanation?: Explanation | null;
  /** How the plan stands, in a sentence. */
  readonly message?: string;
}

/** A season and its plan, replayed once and put into words. */
export interface YearView extends YearProps {
  readonly year: Year;
  readonly sentence: readonly SentencePart[];
  readonly next: NextLine;
  readonly shortfalls: readonly Shortfall[];
  readonly flow: Flow;
}

/** Everything the year's pages show. The sentence, the drawing and the lists all come from this one replay. */
export function viewOf(props: YearProps): YearView {
  const parts = partsOf(props.season, props.plan);
  const year = drawParts(parts, props.news?.oldDays, props.explanation ?? undefined);
  return {
    ...props,
    year,
    sentence: yearSentence(year),
    next: nextLine(year),
    shortfalls: shortfallsIn(parts, year),
    flow: flowIn(parts),
  };
}

/** The day a plan was made for, in words. */
export function madeFor(asOf: string): string {
  return `${formatDay(asOf.slice(0, 10), "en-US", "long")}, ${asOf.slice(11)}`;
}
