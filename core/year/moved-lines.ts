import { dayNumber } from "../calendar.ts";
import type { MovedRun } from "../plan/changed-runs.ts";
import { type Moved, movedBetween } from "../plan/moved.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { dayWords, maltWeightWords, maltWords, vesselWords } from "./words.ts";

/** What has moved between two plans, a line for each run and brew, in order of day. */
export function movedLines(season: Season, before: Plan, after: Plan): string[] {
  const moved = movedBetween(before, after);
  const { runs } = moved;
  const malt = (run: PlanRun) => {
    const name = season.maltTypes.find((one) => one.id === run.maltId)?.name ?? run.maltId;
    return `run of ${maltWords(name)}`;
  };
  const lines: (readonly [at: string, line: string])[] = [
    ...runs.moved.map((one) =>
      [one.before.steepInAt, `${malt(one.before)} of ${movedRun(season, one)}`] as const
    ),
    ...runs.added.map((run) => [run.steepInAt, `one more ${malt(run)} on ${day(run.steepInAt)}`] as const),
    ...runs.gone.map((run) => [run.steepInAt, `no ${malt(run)} on ${day(run.steepInAt)}`] as const),
    ...brewLines(season, moved, before, after),
  ];
  return lines.sort(([one], [other]) => one < other ? -1 : one > other ? 1 : 0)
    .map(([, line]) => `${line.charAt(0).toUpperCase()}${line.slice(1)}`);
}

function movedRun(season: Season, { before, after }: MovedRun): string {
  const vessel = (id: string) => vesselWords(season.vessels.find((one) => one.id === id)?.name ?? id);
  const [was, is] = [before.vesselIds, after.vesselIds];
  const others = (["steep", "bed", "kiln"] as const).filter((stage) => was[stage] !== is[stage]);
  const weight = (run: PlanRun) => maltWeightWords(run.cleanG, season.readerUnits);
  return [
    day(before.steepInAt) + (before.steepInAt === after.steepInAt ? "" : ` to ${start(before, after)}`),
    ...others.map((stage) => `in ${vessel(is[stage])}`),
    ...(weight(before) === weight(after) ? [] : [`with ${weight(after)} instead of ${weight(before)}`]),
  ].join(", ");
}

/** The new start: its day, and the time where the day is the same. */
function start(before: PlanRun, after: PlanRun): string {
  const sameDay = before.steepInAt.slice(0, 10) === after.steepInAt.slice(0, 10);
  return sameDay ? after.steepInAt.slice(11) : day(after.steepInAt);
}

function brewLines(
  season: Season,
  { brews }: Moved,
  before: Plan,
  after: Plan,
): (readonly [string, string])[] {
  const daysOf = (plan: Plan) => new Map(plan.brews.map(({ id, on }) => [id, on]));
  const [was, is] = [daysOf(before), daysOf(after)];
  return [...brews.otherDay, ...brews.madeNow, ...brews.noLonger].map((id) => {
    const brew = season.brews.find((one) => one.id === id.replace(/^tail-/, ""));
    const beer = season.beers.find((one) => one.id === brew?.beerId)?.name ?? id;
    const [old, now] = [was.get(id), is.get(id)];
    const what = old === undefined
      ? `made on ${day(now!)}`
      : now === undefined
      ? `of ${day(old)} not made`
      : `of ${day(old)} on ${day(now)}`;
    return [(old ?? now)!, `${beer} ${what}`];
  });
}

function day(at: string): string {
  return dayWords(dayNumber(at.slice(0, 10)));
}
