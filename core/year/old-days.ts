import { dayNumber } from "../calendar.ts";
import type { Moved } from "../plan/moved.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { clockDay } from "./journal.ts";
import type { StageMark } from "./malthouse-band.ts";
import { brewMovedWords, runMovedWords, runNameWords, startWords } from "./old-day-words.ts";
import { dayWords } from "./words.ts";

/** What became of a thing of the plan before: it is otherwise now, it is no longer planned, or it is new. */
export type Became = "moved" | "gone" | "new";

/** Where things lay in the plan before this one. That is news about a plan and no part of it. */
export interface OldDays {
  readonly runs: readonly OldRun[];
  readonly brews: readonly OldBrew[];
}

/** A run that one of the two plans has otherwise than the other, or alone. */
export interface OldRun {
  readonly became: Became;
  /** Id of the run as it is planned now; null of one that is not. */
  readonly id: string | null;
  /** Such as "run of pale malt, lot A". */
  readonly name: string;
  /** Where it lay before; empty of a new run and of one whose place in the drawing is the same. */
  readonly was: readonly StageMark[];
  /** Day of steep-in, with its clock time, now or else before: what a list goes by. */
  readonly day: number;
  /** What has changed, such as "was to be steeped 12 Jan, now 19 Jan". */
  readonly words: string;
}

/** A brew that one of the two plans makes on another day than the other, or alone. */
export interface OldBrew {
  readonly became: Became;
  readonly id: string;
  readonly name: string;
  /** Day on which it stood before; null of a new one. */
  readonly was: number | null;
  /** Brew day now or else before. */
  readonly day: number;
  readonly words: string;
}

/** Nothing has moved. */
export const NO_OLD_DAYS: OldDays = { runs: [], brews: [] };

/**
 * Where the runs and brews lay that `moved` names, by day: from the season's as-of on, before or now, and up to the last
 * day shown. `before` is the older plan of the two; what has been recorded since is a fact and has not gone.
 */
export function oldDaysOf(season: Season, before: Plan, after: Plan, moved: Moved): OldDays {
  const today = dayNumber(season.asOf.slice(0, 10)), end = dayNumber(season.horizonEnd) + 1;
  const isTold = (days: readonly number[]) =>
    days.some((day) => day < end) && days.some((day) => day >= today);
  const begun = new Set([
    ...season.records.runs.map(({ id }) => id),
    ...season.records.brews.map(({ brewId }) => brewId),
  ]);
  const runs = [
    ...moved.runs.moved.map(({ before: was, after: is }) => movedRun(season, was, is)),
    ...moved.runs.gone.filter(({ id }) => !begun.has(id)).map((run) => goneRun(season, run)),
    ...moved.runs.added.map((run) => newRun(season, run)),
  ];
  return {
    runs: runs.filter(({ day, was: [first] }) => isTold(first === undefined ? [day] : [first.start, day]))
      .toSorted((a, b) => a.day - b.day),
    brews: oldBrews(season, before, after, moved)
      .filter(({ id, became, day, was }) =>
        isTold(was === null ? [day] : [was, day]) && !(became === "gone" && begun.has(id))
      ).toSorted((a, b) => a.day - b.day),
  };
}

function movedRun(season: Season, was: PlanRun, is: PlanRun): OldRun {
  const [old, now] = [stagesOf(was), stagesOf(is)];
  const isElsewhere = was.vesselIds.bed !== is.vesselIds.bed ||
    old.some(({ start, end }, at) => start !== now[at]!.start || end !== now[at]!.end);
  return {
    became: "moved",
    id: is.id,
    name: runNameWords(season, is),
    was: isElsewhere ? old : [],
    day: clockDay(is.steepInAt),
    words: runMovedWords(season, was, is),
  };
}

function goneRun(season: Season, run: PlanRun): OldRun {
  return {
    became: "gone",
    id: null,
    name: runNameWords(season, run),
    was: stagesOf(run),
    day: clockDay(run.steepInAt),
    words: `was to be steeped ${startWords(run.steepInAt)}, now not planned`,
  };
}

function newRun(season: Season, run: PlanRun): OldRun {
  return {
    became: "new",
    id: run.id,
    name: runNameWords(season, run),
    was: [],
    day: clockDay(run.steepInAt),
    words: `to be steeped ${startWords(run.steepInAt)}, not planned before`,
  };
}

function oldBrews(season: Season, before: Plan, after: Plan, { brews }: Moved): OldBrew[] {
  const [old, now] = [before, after].map((plan) => new Map(plan.brews.map((one) => [one.id, one])));
  const brew = (became: Became, id: string): OldBrew => {
    const was = became === "new" ? undefined : old!.get(id);
    const is = became === "gone" ? undefined : now!.get(id);
    const beerId = (is ?? was)!.beerId;
    const on = dayNumber((is ?? was)!.on);
    return {
      became,
      id,
      name: season.beers.find((one) => one.id === beerId)?.name ?? beerId,
      was: was === undefined ? null : dayNumber(was.on),
      day: on,
      words: was === undefined
        ? `to be brewed ${dayWords(on)}, not planned before`
        : brewMovedWords(was.on, is?.on ?? null),
    };
  };
  return [
    ...brews.otherDay.map((id) => brew("moved", id)),
    ...brews.noLonger.map((id) => brew("gone", id)),
    ...brews.madeNow.map((id) => brew("new", id)),
  ];
}

function stagesOf({ vesselIds, steepInAt, castAt, kilnAt, stripAt }: PlanRun): StageMark[] {
  const ends = [steepInAt, castAt, kilnAt, stripAt].map(clockDay);
  return (["steep", "bed", "kiln"] as const).map((stage, at) => ({
    stage,
    vesselId: vesselIds[stage],
    start: ends[at]!,
    end: ends[at + 1]!,
  }));
}
