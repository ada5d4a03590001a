import type { Days, MarkStanding, Span } from "./marks.ts";

/** Tanks, the beer in them, and days on which there are too few. */
export interface TankBand {
  readonly tanks: readonly TankRow[];
  /** Tanks taken at each day's end, cleaning included. */
  readonly taken: readonly number[];
  readonly clashes: readonly TankClash[];
}

/** A tank and what lies in it. */
export interface TankRow {
  readonly id: string;
  readonly name: string;
  readonly volumeL: number;
  readonly uses: readonly TankUse[];
  readonly closures: readonly (Span & { readonly reason: string })[];
}

/** Beer in a tank on the days `from` to `to`; then the tank is cleaned and free again on `freeDay`. */
export interface TankUse extends Days {
  readonly freeDay: number;
  /** Null for beer that was there at the opening. */
  readonly brewId: string | null;
  readonly node: string | null;
  readonly what: string;
  readonly standing: MarkStanding;
}

/** Days on which the brews, each on the day it is wanted, ask for more tanks than there are. */
export interface TankClash extends Days {
  /** Most tanks asked for on one of these days, and tanks open on that day. */
  readonly asked: number;
  readonly open: number;
  readonly days: readonly { readonly day: number; readonly asked: number; readonly open: number }[];
  /** Brews that would be in a tank on the worst day. */
  readonly brewIds: readonly string[];
  /** Of these, what the plan does otherwise: another day, or not at all. Empty without a plan. */
  readonly moved: readonly { readonly brewId: string; readonly fromDay: number; readonly toDay: number }[];
  readonly unbrewed: readonly string[];
  /** Such as "11 tanks of 9 are asked for, 8 Sep to 19 Sep: Yard Lager of 4 Sep goes to 24 Aug". */
  readonly text: string;
}
