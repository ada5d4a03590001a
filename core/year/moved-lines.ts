import { dayNumber } from "../calendar.ts";
import type { MovedRun } from "../plan/changed-runs.ts";
import type { Moved } from "../plan/moved.ts";
import type { Plan, PlanRun } from "../plan/plan.ts";
import type { Season } from "../season/season.ts";
import { dayWords, listWords, maltWeightWords, maltWords, vesselWords } from "./words.ts";

/** What has moved between two plans of a season, a line for each run and brew, in order of day. */
export function movedLines(season: Season, moved: Moved, before: Plan, after: Plan): string[] {
  const lines = [...runLines(season, moved.runs), ...brewLines(season, moved.brews, before, after)];
  return lines.sort(([one], [other]) => one < other ? -1 : one > other ? 1 : 0).map(([, line]) => line);
}

/** A line, and the day or minute by which it has its place. */
type Line = readonly [at: string, text: string];

function runLines(season: Season, { moved, added, gone }: Moved["runs"]): Line[] {
  const left = [...added];
  // A run that only draws on another lot matches nothing, and yet it is the same day's work.
  const regrained: [PlanRun, PlanRun][] = [];
  const going = gone.filter((run) => {
    const index = left.findIndex((one) => one.steepInAt === run.steepInAt && one.maltId === run.maltId);
    if (index >= 0) regrained.push([run, left.splice(index, 1)[0]!]);
    return index < 0;
  });
  const from = (run: PlanRun) =>
    listWords(run.draws.map(({ lotId }) => season.lots.find((one) => one.id === lotId)?.letter ?? lotId));
  return [
    ...moved.map((one): Line => [one.before.steepInAt, movedRun(season, one)]),
    ...regrained.map(([was, is]): Line => [
      was.steepInAt,
      `Run of ${malt(season, was)} of ${day(was.steepInAt)}: of ${from(is)} instead of ${from(was)}`,
    ]),
    ...left.map((run): Line => [
      run.steepInAt,
      `One more run of ${malt(season, run)} of ${from(run)} on ${day(run.steepInAt)}`,
    ]),
    ...going.map((run): Line => [
      run.steepInAt,
      `No run of ${malt(season, run)} of ${from(run)} on ${day(run.steepInAt)}`,
    ]),
  ];
}

function movedRun(season: Season, { before, after }: MovedRun): string {
  const vessel = (id: string) => vesselWords(season.vessels.find((one) => one.id === id)?.name ?? id);
  const [was, is] = [before.vesselIds, after.vesselIds];
  const weight = (run: PlanRun) => maltWeightWords(run.cleanG, season.readerUnits);
  const isMoved = before.steepInAt !== after.steepInAt;
  return [
    `Run of ${malt(season, before)} ${
      isMoved ? fromTo(before.steepInAt, after.steepInAt) : `of ${day(before.steepInAt)}`
    }`,
    ...(["steep", "bed", "kiln"] as const).filter((stage) => was[stage] !== is[stage])
      .map((stage) => `in ${vessel(is[stage])}`),
    ...(weight(before) === weight(after) ? [] : [`with ${weight(after)} instead of ${weight(before)}`]),
  ].join(", ");
}

function brewLines(season: Season, brews: Moved["brews"], before: Plan, after: Plan): Line[] {
  const daysOf = (plan: Plan) => new Map(plan.brews.map(({ id, on }) => [id, on]));
  const [was, is] = [daysOf(before), daysOf(after)];
  return [...brews.otherDay, ...brews.madeNow, ...brews.noLonger].map((id): Line => {
    const beerId = [...before.brews, ...after.brews].find((one) => one.id === id)?.beerId;
    const beer = season.beers.find((one) => one.id === beerId)?.name ?? id;
    const [old, now] = [was.get(id), is.get(id)];
    if (old === undefined) return [now!, `${beer} made on ${day(now!)}`];
    return [old, now === undefined ? `${beer} of ${day(old)} not made` : `${beer} ${fromTo(old, now)}`];
  });
}

/** "from 8 Mar to 16 Mar", with the times where the day stays. */
function fromTo(old: string, now: string): string {
  const stays = old.slice(0, 10) === now.slice(0, 10);
  return stays
    ? `of ${day(old)} from ${old.slice(11)} to ${now.slice(11)}`
    : `from ${day(old)} to ${day(now)}`;
}

function malt({ maltTypes }: Season, { maltId }: PlanRun): string {
  return maltWords(maltTypes.find((one) => one.id === maltId)?.name ?? maltId);
}

function day(at: string): string {
  return dayWords(dayNumber(at.slice(0, 10)));
}
