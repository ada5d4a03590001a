/** One grammar of states in all bands. */
export type MarkStanding = "done" | "under way" | "booked" | "not booked";

/** A stretch of whole days, both ends included. */
export interface Days {
  readonly from: number;
  readonly to: number;
}

/** A stretch of clock time in days with fractions, half-open. */
export interface Span {
  readonly start: number;
  readonly end: number;
}
