import type { Problem } from "../search/problem.ts";

/** Rounding to whole grams that the auditor lets pass, in a batch or a line, tonnes: two grams each, and as much again for uses. */
export const ROUNDED_T = 4e-6;

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

/** Raw grain counts by weight; bagged grain richer than a line's book counts for so much more than it weighs. */
export function goodExtract(problem: Problem, material: number, extractAsIs: number): number {
  let most = 1;
  for (const demand of problem.demands) {
    for (const line of demand.lines) {
      if (line.material !== material || line.extractG <= 0) continue;
      most = Math.max(most, extractAsIs / (line.extractG / line.bookMassG));
    }
  }
  return most;
}
