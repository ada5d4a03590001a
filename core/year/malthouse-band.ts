import type { HandOver, Stage } from "../season/malthouse.ts";
import type { Crop } from "../season/quantity.ts";
import type { Days, MarkStanding, Span } from "./marks.ts";

/** Runs, the vessels they take, and when nothing may be handed over. */
export interface MalthouseBand {
  readonly runs: readonly RunMark[];
  readonly vessels: readonly VesselRow[];
  /** Days closed for some hand-over, with the reason ("drilling", "holiday"). */
  readonly pauses: readonly Pause[];
}

/** Days closed for the hand-overs named. */
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

/** A stage of a run in its vessel. */
export interface StageMark extends Span {
  readonly stage: Stage;
  readonly vesselId: string;
}

/** A batch that a run brings. */
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

/** A vessel: how full it is, where it is the limit, and where no further load would fit. */
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
