import type { Problem } from "../search/problem.ts";

/** Rounding to whole grams that the auditor lets pass, tonnes: two grams in a batch, a gram in a line for each of up to eight uses. */
export const ROUNDED_T = 8e-6;

/** So much extract comes into a pool for each unit of a column. */
export interface Term {
  readonly column: number;
  readonly gives: number;
  /** What it surely gives: `gives` is with all that mixing and rounding could add. */
  readonly surely: number;
  readonly home: boolean;
  /** Lot index; -1 for what is bought. */
  readonly lot: number;
}

/**
 * What comes in of a material on a day, tonnes of extract (of raw grain, tonnes at its line's book extract): a fixed part of what is
 * held, booked or under way, or terms that all hang on one whole-number column, the run or the order.
 */
export interface Source {
  readonly material: number;
  readonly day: number;
  readonly lastDay: number;
  /** Day from whose end on it lies in the malt store, if it comes at all; Infinity for what never does. */
  readonly storedDay: number;
  readonly terms: readonly Term[];
  readonly fixedHomeT: number;
  readonly fixedOtherT: number;
  /** Column of the run or order, and the most that all terms together give for each one; -1 and 0 for fixed parts. */
  readonly whole: number;
  readonly mostT: number;
  /** Index of the offer it is bought from; -1 for none. */
  readonly offer: number;
  /** Share of a fixed part from each lot index; null when unknown or bought. */
  readonly share: ReadonlyMap<number, number> | null;
  /** Least and greatest extract in a tonne of it. */
  readonly leastPerT: number;
  readonly greatestPerT: number;
}

/**
 * Raw grain counts by weight at the extract that beers book for its crop; a tonne of bagged grain that is richer than the poorest such
 * figure counts for so much more.
 */
export function goodExtract(problem: Problem, material: number, extractAsIs: number): number {
  const crop = problem.materials[material]?.crop;
  const booked = problem.season.beers.flatMap((beer) =>
    [...beer.grist, ...beer.substitutes].flatMap(({ ingredient }) =>
      ingredient.kind === "grain" && ingredient.crop === crop ? [ingredient.extractAsIs] : []
    )
  );
  return Math.max(1, extractAsIs / Math.min(...booked, 1));
}
