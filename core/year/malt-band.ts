import type { MarkStanding } from "./marks.ts";

/** Malt by the day, what is ordered of it and what lacks. */
export interface MaltBand {
  readonly rows: readonly MaltRow[];
  readonly places: number;
  /** Places used at each day's end, resting malt included. */
  readonly placesUsed: readonly number[];
  readonly fullestDay: number;
  readonly mostPlaces: number;
}

/** A malt made on the farm, one that brews ask for, or bagged raw grain that was bought. */
export interface MaltRow {
  /** `malt:` or `grain:` and the malt's id or crop. */
  readonly key: string;
  readonly maltId: string | null;
  readonly name: string;
  readonly made: "from grain" | "from malt" | "bought";
  readonly readyHomeG: readonly number[];
  readonly readyBoughtG: readonly number[];
  /** Resting or held, not to be brewed yet. */
  readonly restingG: readonly number[];
  readonly mostG: number;
  readonly floorG: number;
  readonly orders: readonly OrderMark[];
  readonly lacks: readonly Lack[];
}

/** An order of malt or of bagged grain. */
export interface OrderMark {
  readonly id: string;
  readonly node: string;
  readonly supplier: string;
  readonly orderDay: number;
  readonly arriveDay: number;
  readonly packs: number;
  readonly massG: number;
  readonly costCents: number;
  readonly standing: MarkStanding;
}

/**
 * An episode in which home malt did not cover what brews asked of it. A day lacks what its brews took of a line from
 * bought malt, and what brews that are not made would have taken (on the day they were wanted). Lacking days belong to
 * one episode when they are at most ten days apart, or when no brew in between was made of home malt alone.
 */
export interface Lack {
  readonly maltId: string;
  readonly maltName: string;
  /** Day of the first brew that lacked. */
  readonly firstDay: number;
  /** Day of the last one. */
  readonly lastDay: number;
  /** First day after `lastDay` at whose end home malt for half a usual brew lies ready; null when there is none up to `planEnd`. */
  readonly backDay: number | null;
  readonly massG: number;
  /** All that brews asked of this malt from `firstDay` to `lastDay`; home malt covers what of it is not lacking. */
  readonly askedG: number;
  /** Part of `massG` that bought malt covered; the rest was gone without. */
  readonly boughtG: number;
  /** Lacking weight by day, in order. */
  readonly days: readonly { readonly day: number; readonly massG: number }[];
  readonly brewIds: readonly string[];
  /** Home malt up to here came of forecast grain, so the days are "about". */
  readonly forecast: boolean;
  /** Such as "on 11 Mar, back on 30 Mar". */
  readonly when: string;
  /** Such as "home pale malt runs short on 11 Mar, back on 30 Mar". */
  readonly words: string;
  /** Such as "1,690 of 3,200 kg lacking". */
  readonly weight: string;
  /** Both, with a colon. */
  readonly text: string;
}
