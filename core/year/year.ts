import type { ReaderUnits } from "../units.ts";
import type { BrewMark } from "./brews-band.ts";
import type { FieldsBand } from "./fields-band.ts";
import type { MaltBand } from "./malt-band.ts";
import type { MalthouseBand } from "./malthouse-band.ts";
import type { OldDays } from "./old-days.ts";
import type { RunSlackWords, RunWorth } from "./run-worth.ts";
import type { StoreRow } from "./stores-band.ts";
import type { TankBand } from "./tanks-band.ts";
import type { Graph } from "./trace.ts";

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
  /** Where things lay in the plan before; nothing where that is not told. */
  readonly oldDays: OldDays;
  /** What one run more would be worth in each week ahead, as far as that is known; empty where it is not. */
  readonly runWorth: readonly RunWorth[];
  /** How far each free run may slip, as far as that is known. */
  readonly runSlack: readonly RunSlackWords[];
}
