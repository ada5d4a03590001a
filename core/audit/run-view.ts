/** A run of the plan with what the season knows about it: instants of its hand-overs and which of them are facts. */
import { dateOf, dayNumber, type LocalTime } from "../calendar.ts";
import type { PlanRun } from "../plan/plan.ts";
import type { Lot } from "../season/grain.ts";
import {
  HAND_OVERS,
  type HandOver,
  type MadeFromGrain,
  type MaltType,
  type Profile,
} from "../season/malthouse.ts";
import type { Crop } from "../season/quantity.ts";
import type { RecordedRun } from "../season/records.ts";
import { instant } from "../zone.ts";

const RECORD_FIELD = {
  steepIn: "steepInAt",
  castToBed: "castAt",
  kilnLoading: "kilnAt",
  strip: "stripAt",
} as const;

/** A plan's run with its facts. Instants are epoch minutes, days are local day numbers. */
export interface RunView {
  readonly run: PlanRun;
  /** The record, when the run was begun and is neither stripped nor given up at as-of. */
  readonly record: RecordedRun | undefined;
  readonly at: Readonly<Record<HandOver, number>>;
  readonly day: Readonly<Record<HandOver, number>>;
  /** Which hand-overs have happened; one that nobody wrote down has, if a later one is recorded. */
  readonly fact: Readonly<Record<HandOver, boolean>>;
  /** True when no hand-over comes before the one that should precede it. */
  readonly ordered: boolean;
  readonly lots: readonly (Lot | undefined)[];
  readonly crop: Crop | undefined;
  readonly malt: MaltType | undefined;
  readonly made: MadeFromGrain | undefined;
  readonly profile: Profile | undefined;
  readonly drawnG: number;
}

/** Where a hand-over is written in a run, planned or recorded. */
export function handOverAt(run: PlanRun, handOver: HandOver): LocalTime {
  return run[RECORD_FIELD[handOver]];
}

/** Hand-overs as far as they are written down. */
interface Written {
  readonly steepInAt: LocalTime;
  readonly castAt?: LocalTime | undefined;
  readonly kilnAt?: LocalTime | undefined;
  readonly stripAt?: LocalTime | undefined;
}

/** A recorded or booked hand-over's minute, or undefined when it is not written down. */
export function recordedAt(record: Written, handOver: HandOver): LocalTime | undefined {
  return record[RECORD_FIELD[handOver]];
}

function each<T>(value: (handOver: HandOver) => T): Record<HandOver, T> {
  return {
    steepIn: value("steepIn"),
    castToBed: value("castToBed"),
    kilnLoading: value("kilnLoading"),
    strip: value("strip"),
  };
}

/** Looks everything up; what the season does not know stays undefined. */
export function viewRun(
  run: PlanRun,
  zone: string,
  lots: ReadonlyMap<string, Lot>,
  malts: ReadonlyMap<string, MaltType>,
  record: RecordedRun | undefined,
): RunView {
  const at = each((handOver) => instant(zone, handOverAt(run, handOver)));
  const malt = malts.get(run.maltId);
  const made = malt?.made.from === "grain" ? malt.made : undefined;
  const drawn = run.draws.map((draw) => lots.get(draw.lotId));
  return {
    run,
    record,
    at,
    day: each((handOver) => dayNumber(dateOf(handOverAt(run, handOver)))),
    fact: each((handOver) =>
      record !== undefined &&
      HAND_OVERS.slice(HAND_OVERS.indexOf(handOver)).some((one) => recordedAt(record, one) !== undefined)
    ),
    ordered: HAND_OVERS.every((handOver, place) => place === 0 || at[HAND_OVERS[place - 1]!] <= at[handOver]),
    lots: drawn,
    crop: drawn.find((lot) => lot !== undefined)?.crop,
    malt,
    made,
    profile: made?.profiles.find((profile) => profile.id === run.profileId),
    drawnG: run.draws.reduce((sum, draw) => sum + draw.massG, 0),
  };
}
