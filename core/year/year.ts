import type { Season } from "../season/season.ts";
import type { Stage } from "../season/malthouse.ts";
import type { HandOver } from "../season/malthouse.ts";
import type { Crop } from "../season/quantity.ts";
import type { Cause, Plan } from "../plan/plan.ts";
import type { ReaderUnits } from "../units.ts";
import type { Graph } from "./trace.ts";
import { drawParts, partsOf } from "./draw.ts";

/**
 * What the page shows of a season and its plan, band by band, ready to be drawn: no rule of the farm has to be known to
 * draw it. Every day is a day number of core/calendar. Where a clock time matters a day carries a fraction (noon = 0.5;
 * the farm's wall clock), elsewhere it is whole. Series hold one value a day, at the END of that day, index 0 =
 * `firstDay`, the last = `planEnd`. Weights are grams as is, volumes litres. Stretches of whole days include both ends;
 * stretches of clock time are half-open. Days after `lastDay` belong to the tail that is not to be acted on.
 */
export interface Year {
  readonly farm: string;
  readonly units: ReaderUnits;
  /** Day of `positionAt`: the first day shown. */
  readonly firstDay: number;
  /** `horizonEnd`: the last day shown. */
  readonly lastDay: number;
  /** Last day of every series: `horizonEnd` + 84. */
  readonly planEnd: number;
  /** Now on the farm, with the clock as a fraction of the day. */
  readonly asOf: number;
  /** False when there is no plan yet: then only facts, bookings and the calendar are drawn. */
  readonly planned: boolean;
  readonly bookValueCount: number;
  readonly fields: FieldsBand;
  readonly stores: readonly StoreRow[];
  readonly malthouse: MalthouseBand;
  readonly malt: MaltBand;
  readonly brews: readonly BrewMark[];
  readonly tanks: TankBand;
  /** What became what, for tracing. Marks name their node in `node`. */
  readonly graph: Graph;
}

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

// Fields ------------------------------------------------------------------------------------------------------------

export interface FieldsBand {
  readonly plantings: readonly PlantingMark[];
  readonly breaks: readonly BreakMark[];
}

/** A planting: the fields that are cut as one. */
export interface PlantingMark {
  readonly id: string;
  readonly node: string;
  readonly fieldNames: readonly string[];
  readonly areaM2: number;
  readonly crop: Crop;
  readonly sowingSeason: "winter" | "spring";
  readonly harvestYear: number;
  readonly state: "planned" | "sown" | "harvested" | "lost";
  readonly drillDay: number;
  /** Until this day winter can still take it (1 April of the harvest year); null when it cannot, or not any more. */
  readonly atRiskUntil: number | null;
  readonly harvest: { readonly early: number; readonly likely: number; readonly late: number };
  /** Days on which it was weighed, when it was. */
  readonly cut: Days | null;
  /** Weight as cut: weighed (three times the same) or forecast. */
  readonly cutG: Spread;
  /** Weight that comes into store after drying, handling and intake cleaning. */
  readonly binG: Spread;
  readonly weighed: boolean;
  /** Part of the likely weight for which the plan finds no store. */
  readonly leftOutG: number;
  readonly lotId: string;
  readonly letter: string;
  readonly lotNode: string;
}

export interface Spread {
  readonly bad: number;
  readonly likely: number;
  readonly good: number;
}

/** A field that carries no grain in a harvest year: the year runs from 1 September before to 31 August, for drawing. */
export interface BreakMark extends Days {
  readonly fieldId: string;
  readonly fieldName: string;
  readonly areaM2: number;
  readonly harvestYear: number;
  readonly crop: string;
}

// Stores ------------------------------------------------------------------------------------------------------------

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

export interface LotStretch extends Days {
  readonly state: LotState;
}

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

// Malthouse ---------------------------------------------------------------------------------------------------------

export interface MalthouseBand {
  readonly runs: readonly RunMark[];
  readonly vessels: readonly VesselRow[];
  /** Days closed for some hand-over, with the reason ("drilling", "holiday"). */
  readonly pauses: readonly Pause[];
}

export interface Pause extends Days {
  readonly handOvers: readonly HandOver[];
  readonly reason: string;
}

/** A run. Dumped: given up on the way, or thrown away after stripping. */
export interface RunMark {
  readonly id: string;
  readonly node: string;
  /** Counted by steep-in from the first run of the file: "run 14". */
  readonly number: number;
  readonly standing: MarkStanding | "dumped";
  readonly maltId: string;
  readonly maltName: string;
  readonly crop: Crop;
  /** Letters of the lots drawn, such as "A" or "A+B". */
  readonly letters: string;
  readonly lotIds: readonly string[];
  readonly drawnG: number;
  readonly cleanG: number;
  readonly profileName: string;
  readonly stages: readonly StageMark[];
  /** Stretches from 18:00 to 6:00 in which the kiln is fired. */
  readonly nights: readonly Span[];
  readonly outputs: readonly RunOutput[];
  readonly note: string;
}

export interface StageMark extends Span {
  readonly stage: Stage;
  readonly vesselId: string;
}

export interface RunOutput {
  readonly batchId: string;
  readonly node: string;
  readonly maltId: string;
  readonly maltName: string;
  readonly massG: number;
  /** Infinity for malt that is held, or of which a lot has failed since. */
  readonly readyDay: number;
  readonly lastDay: number;
}

export interface VesselRow {
  readonly id: string;
  readonly name: string;
  readonly stages: readonly Stage[];
  readonly closures: readonly (Span & { readonly reason: string })[];
  /** Share of the open time that is taken, cleaning included, from as-of to `lastDay`; null when nothing is ahead. */
  readonly useAhead: number | null;
  /** The same from `firstDay` to as-of. */
  readonly useSoFar: number | null;
  /** Stretches in which this vessel is the limit. */
  readonly full: readonly FullStretch[];
  /** Of a bed, and of any vessel that is the limit: its time between two loads, where no further run would fit. */
  readonly gaps: readonly VesselGap[];
}

/** Why a vessel stands empty: cleaned and then too short for a load; no hand-over staffed; a vessel closed; another one taken. */
export type GapCause = "too short" | "nobody there" | "closed" | "taken";

/** Time between two loads of a vessel in which no further run could lie, cleaning included. What is open is no gap. */
export interface VesselGap extends Span {
  readonly cause: GapCause;
  /** Such as "kiln: burner service" or "harvest"; empty where it is too short. */
  readonly reason: string;
}

/** From the Monday (the farm's first day of the week) of the first such week to the last day of the last one. */
export interface FullStretch extends Days {
  /** Farm weeks inside it in which a run could be started at all. */
  readonly openWeeks: number;
  /** Such as "the bed is full until 9 Jul 2027". */
  readonly words: string;
  /** The same with what it means: "...: no further run beside those planned". */
  readonly text: string;
}

// Malt --------------------------------------------------------------------------------------------------------------

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

// Brews -------------------------------------------------------------------------------------------------------------

/** Done: packaged. Under way: in tank. Unbrewed: asked for, not made. Awaited: no plan has looked at it yet. */
export type BrewStanding = MarkStanding | "unbrewed" | "awaited";

export interface BrewMark {
  readonly id: string;
  readonly node: string;
  readonly beerId: string;
  readonly beerName: string;
  readonly letter: string;
  /** Brew day, or the day wanted when it is not made. */
  readonly day: number;
  readonly wantedDay: number;
  readonly class: 1 | 2 | 3;
  readonly pilot: boolean;
  readonly standing: BrewStanding;
  /** In the twelve weeks after `lastDay`. */
  readonly tail: boolean;
  /** Home-grown weight out of grist weight; 0 when not made. */
  readonly homeShare: number;
  readonly promise: number;
  readonly promiseHeld: boolean;
  readonly gristG: number;
  readonly volumeL: number;
  /** First day out of the tank: packaged. */
  readonly packagedDay: number;
  readonly tanks: readonly { readonly tankId: string; readonly volumeL: number }[];
  readonly unbrewed: { readonly cause: Cause; readonly why: string } | null;
}

// Tanks -------------------------------------------------------------------------------------------------------------

export interface TankBand {
  readonly tanks: readonly TankRow[];
  /** Tanks taken at each day's end, cleaning included. */
  readonly taken: readonly number[];
  readonly clashes: readonly TankClash[];
}

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

/** Draws the year of a season and its plan. Pure; `plan` = null draws what is known without one. */
export function yearOf(season: Season, plan: Plan | null): Year {
  return drawParts(partsOf(season, plan));
}
