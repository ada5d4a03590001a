import type { HazardousKind } from "../cautions.ts";
import type { Season } from "../season/season.ts";
import type { Limit } from "./limits.ts";

/** Something a farm could do, in one size. */
export interface Remedy {
  readonly id: string;
  /** What it eases; where that limit taken away whole brings nothing, the remedy brings nothing either. */
  readonly limits: readonly Limit[];
  /** "Work 2 weekend days". */
  readonly words: string;
  /** What it costs beyond what the plan counts, in cents; null where the season gives no price. */
  readonly costCents: number | null;
  /** Where the price comes from; empty where there is none. */
  readonly costWords: string;
  /** Brews that are given up for it. */
  readonly givesUp: readonly string[];
  readonly hazards: readonly HazardousKind[];
  readonly season: Season;
}

/** One remedy in its sizes, the least first. */
export type Steps = readonly Remedy[];

/** Sizes that are tried where a thing can be done once, twice or four times. */
export const SIZES = [1, 2, 4] as const;

/** A remedy of which the season gives no price, unless it says otherwise. */
export function remedy(
  one: Pick<Remedy, "id" | "limits" | "words" | "season" | "hazards"> & Partial<Remedy>,
): Remedy {
  return { costCents: null, costWords: "", givesUp: [], ...one };
}
