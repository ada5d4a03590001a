import type { Season } from "../season.ts";
import type { Tell } from "./finding.ts";

/** What every check gets: a season that fits the schema, the day it is judged on, and where to note findings. */
export interface Checking {
  readonly season: Season;
  /** The minute the check is made for. */
  readonly asOf: string;
  /** Day number of `asOf`. */
  readonly today: number;
  readonly tell: Tell;
}
