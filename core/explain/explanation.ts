import type { RunSlackWords, RunWorth } from "../year/run-worth.ts";
import type { YearKind } from "./harvest-years.ts";
import type { Limit } from "./limits.ts";

/** What stands behind one shortfall of the year. `what` is the shortfall's own text and finds it again. */
export interface ExplainedShortfall {
  readonly what: string;
  /** "With the kiln no limit, it would not fall short.", or that nothing would have helped. */
  readonly words: string;
  readonly chain: readonly string[];
  /** What would end it, taken away by itself; empty where nothing would. */
  readonly limits: readonly Limit[];
  /** False where the plan gets round it. */
  readonly isFelt: boolean;
  /** Day numbers between which it is felt. */
  readonly fromDay: number;
  readonly toDay: number;
}

/** One remedy in words. */
export interface ExplainedRemedy {
  readonly id: string;
  readonly words: string;
  /** "3 more brews and 5 more promises held", or "no measurable gain". */
  readonly effect: string;
  readonly beers: string;
  readonly money: string;
  readonly cost: string;
  readonly rank: string;
  /** The limit once it is in place; empty where it was not looked for. */
  readonly next: string;
  readonly isNoise: boolean;
  /** Planned in full, not with a short search. */
  readonly isFirm: boolean;
  readonly cautions: readonly string[];
  /** Brews more over the days shown. */
  readonly brews: number;
  /** Money better, cents, from as-of to the plan's end, before the remedy's own cost. */
  readonly moneyCents: number;
  /** Its own cost, cents; null where the season gives no price. */
  readonly costCents: number | null;
}

/** What one more acre or hectare of a planting is worth, in words. */
export interface ExplainedAcre {
  readonly plantingId: string;
  readonly what: string;
  readonly words: string;
  /** What it would bring as feed; empty where no pick-up takes the crop. */
  readonly feed: string;
}

/** What the year would be if a lot still to be cut failed its test, in words. */
export interface ExplainedFailing {
  readonly lotId: string;
  readonly letter: string;
  readonly what: string;
  readonly words: string;
  readonly beers: string;
  readonly money: string;
}

/** What the harvests to come carry in a bad, likely or good year, in words. */
export interface ExplainedYear {
  readonly kind: YearKind;
  /** "52.3 t" over the scales. */
  readonly cut: string;
  /** Pints of beer in all, each brew counted by its share of home-grown grain: "41,200". */
  readonly pints: string;
  /** Of them those inside the days shown; the rest is what grain and malt left then would still make. */
  readonly shown: string;
  /** Month in which all of it is used up at the plan's own pace: "May 2028"; empty where there is no pace. */
  readonly lastsTo: string;
  /** "all made as promised", or how many are not, and from when. */
  readonly short: string;
  /** What of the harvest finds no store: "21.4 t"; empty where all does. */
  readonly noRoom: string;
  /** Day on which the first brew that goes short was wanted, or null. */
  readonly firstShortDay: number | null;
}

/** In how many drawn years brews from the first harvest on go short, as far as they have been planned. */
export interface ExplainedOdds {
  /** Years that are to be drawn. */
  readonly of: number;
  /** By year: the day of the first brew that goes short, or null. */
  readonly firstShortDays: readonly (number | null)[];
  /** Years of these that found no plan. */
  readonly unplanned: number;
  /** Day on which new grain may first be awake, and last day shown. */
  readonly fromDay: number;
  readonly toDay: number;
}

/** How far one run may slip: "may slip 2 days: ...". */
export interface ExplainedSlack extends RunSlackWords {
  readonly days: number;
  /** A brew inside the horizon would be lost or go short, so it is pressed by more than the run behind it. */
  readonly isPressed: boolean;
}

/** Everything about a plan that takes planning other seasons to know; grows until `doing` is empty. */
export interface Explanation {
  readonly format: "rickyard-explanation";
  readonly version: 4;
  /** What is being tried, and how far it is; empty when nothing is left to try. */
  readonly doing: string;
  readonly done: number;
  readonly of: number;
  /** The line under the year's sentence. */
  readonly breaksFirst: string;
  /** How far each free run may slip, the run that would break the plan first at the head. */
  readonly slack: readonly ExplainedSlack[];
  /** "Pale: least on 3 Mar, 120 kg below its reserve" by malt. */
  readonly reserves: readonly string[];
  /** Empty until it is known. */
  readonly limit: string;
  /** The tightest limit, or several that are it together; empty where nothing is binding. */
  readonly limits: readonly Limit[];
  readonly shortfalls: readonly ExplainedShortfall[];
  readonly remedies: readonly ExplainedRemedy[];
  /** What one more acre or hectare of each planting still to be drilled is worth. */
  readonly acres: readonly ExplainedAcre[];
  /** The largest malting lots that are still to be cut, the largest first, as far as each has been tried. */
  readonly failing: readonly ExplainedFailing[];
  /** Bad, likely and good, as far as each has been planned; empty where no harvest is to come. */
  readonly years: readonly ExplainedYear[];
  /** Null where no harvest is to come, or nothing has been drawn yet. */
  readonly odds: ExplainedOdds | null;
  /** What one run more would be worth by week, in order of week, as far as it is known. */
  readonly weeks: readonly RunWorth[];
}
