import type { Crop } from "../season/quantity.ts";
import type { Days, MarkStanding } from "./marks.ts";

/** A bin or the bag places of one store, and all that lies in it, comes and goes. */
export interface StoreRow {
  readonly id: string;
  readonly name: string;
  readonly kind: "bin" | "bags";
  /** What it holds of the lot with which it holds most over the year, or of barley at 61.8 kg/hl when it is never used. */
  readonly capacityG: number;
  /** Bag rows: places, and places used at each day's end. Null for a bin. */
  readonly places: number | null;
  readonly placesUsed: readonly number[] | null;
  /** Stays of lots, by first day. In a bin they do not overlap at a day's end. */
  readonly stays: readonly LotStay[];
  readonly arrivals: readonly StoreEvent[];
  /** Feed loads, moves, seed, sales, mixes and counts; not what runs and brews draw (see `draws`). */
  readonly departures: readonly StoreEvent[];
  readonly draws: readonly StoreEvent[];
  /** Days on which a bin is left empty and clean between two lots. */
  readonly cleanGaps: readonly Days[];
  readonly mustLeave: readonly MustLeave[];
}

/**
 * Asleep: not yet awake. Ready: may be used. Past: its last malting day is over. Feed: feed only. Awaiting: a result or a
 * decision. Locked: neither malt nor mash nor feed as things stand.
 */
export type LotState = "asleep" | "ready" | "past" | "feed" | "awaiting" | "locked";

/** One lot lying in one store without a break. `levelsG[i]` is the weight at the end of day `from + i`. */
export interface LotStay extends Days {
  readonly lotId: string;
  readonly node: string;
  readonly letter: string;
  readonly name: string;
  readonly crop: Crop;
  readonly harvestYear: number;
  readonly levelsG: readonly number[];
  /** What this store holds of this lot (a bag row: all its places). */
  readonly capacityG: number;
  /** States in order, covering the whole stay. */
  readonly stretches: readonly LotStretch[];
  /** Last day on which it may be malted, and why, when it has such a day. */
  readonly lastMaltingDay: { readonly day: number; readonly reason: string } | null;
  /** The lot's weight rests on a forecast, not on scales. */
  readonly forecast: boolean;
}

/** Days on which a lot is in one state. */
export interface LotStretch extends Days {
  readonly state: LotState;
}

/** How grain comes into a store or leaves it. */
export type StoreEventKind =
  | "harvest"
  | "bought"
  | "moved in"
  | "mixed in"
  | "run"
  | "brew"
  | "feed"
  | "moved out"
  | "mixed out"
  | "seed"
  | "sold"
  | "counted";

/** Grain entering or leaving a store. `massG` is positive, except a count that took away. */
export interface StoreEvent {
  readonly kind: StoreEventKind;
  readonly day: number;
  readonly lotId: string;
  readonly letter: string;
  readonly massG: number;
  readonly standing: MarkStanding;
  /** The run, load, move, ... it belongs to. */
  readonly refId: string;
  readonly node: string;
  /** The other store of a move. */
  readonly otherStoreId: string | null;
}

/** Grain that has to go before another lot can come in. */
export interface MustLeave {
  readonly kind: "feed" | "move";
  readonly refId: string;
  readonly node: string;
  readonly storeId: string;
  readonly storeName: string;
  readonly toStoreId: string | null;
  readonly toStoreName: string | null;
  readonly lotId: string;
  readonly letter: string;
  readonly massG: number;
  /** The day on which the plan lets it go. */
  readonly onDay: number;
  /** The last day that leaves time to clean, or the end of the pick-up's dates. */
  readonly byDay: number;
  /** `byDay` rests on the forecast of a harvest day. */
  readonly forecast: boolean;
  readonly standing: MarkStanding;
  readonly nextLotId: string;
  readonly nextLetter: string;
  readonly nextDay: number;
  /** `nextDay` is that of a harvest to come. */
  readonly nextForecast: boolean;
  /** What comes into this store of the next lot on `nextDay`, or may come when that is a forecast. */
  readonly nextMassG: number;
  /** The words of headline, drawing and lists: "C 7.5 t must leave bin 4 by 15 Jul", with "to feed" and "G 22.5 t comes about 8 Jul". */
  readonly words: MustLeaveWords;
}

/** What must leave, in the words in which every page says it. */
export interface MustLeaveWords {
  /** "by 15 Jul", "by about 5 Jul". */
  readonly by: string;
  /** "7.5 t must leave bin 4 by 15 Jul", to follow the lot's letter. */
  readonly go: string;
  /** "to feed", "over to bin 5". */
  readonly where: string;
  /** "G 22.5 t comes about 8 Jul". */
  readonly comes: string;
}
