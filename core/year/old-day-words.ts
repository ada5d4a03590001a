import { dayNumber } from "../calendar.ts";
import { formatDay } from "../day-names.ts";
import type { PlanRun } from "../plan/plan.ts";
import { type Stage, STAGES } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import type { Year } from "./year.ts";
import { dayWords, maltWords, nameWords, upperFirst, vesselWords, weightWords } from "./words.ts";

/** A load that differs by less is the same load in words: "changed" in movedBetween. */
const SAME_LOAD = 0.05;

/** What is otherwise with a run, part by part: "was to be steeped 12 Jan, now 19 Jan". */
export function runMovedWords(season: Season, was: PlanRun, is: PlanRun): string {
  const load = (run: PlanRun) => weightWords(run.cleanG, season.readerUnits);
  const vessel = (id: string) => vesselWords(season.vessels.find((one) => one.id === id)?.name ?? id);
  const parts = [
    ...was.steepInAt === is.steepInAt ? [] : [`was to be steeped ${fromTo(was.steepInAt, is.steepInAt)}`],
    ...STAGES.filter((stage: Stage) => was.vesselIds[stage] !== is.vesselIds[stage]).map((stage) =>
      `was to lie in ${vessel(was.vesselIds[stage])}, now in ${vessel(is.vesselIds[stage])}`
    ),
    ...Math.abs(is.cleanG - was.cleanG) <= SAME_LOAD * was.cleanG
      ? []
      : [`was to be a load of ${load(was)}, now ${load(is)}`],
  ];
  return parts.length > 0 ? parts.join("; ") : `was to be off the kiln ${fromTo(was.stripAt, is.stripAt)}`;
}

/** "was to be brewed 12 Jan, now 19 Jan"; with no day now, that it is no longer made. Days are ISO dates. */
export function brewMovedWords(was: string, is: string | null): string {
  return `was to be brewed ${is === null ? `${startWords(was)}, now not made` : fromTo(was, is)}`;
}

/** "run of pale malt, lot A". */
export function runNameWords(season: Season, run: PlanRun): string {
  const malt = season.maltTypes.find((one) => one.id === run.maltId)?.name ?? run.maltId;
  const letters = run.draws.map(({ lotId }) => season.lots.find((one) => one.id === lotId)?.letter ?? lotId);
  return `run of ${maltWords(malt)}, lot ${letters.join("+")}`;
}

/** Day of a reading: "12 Jan". */
export function startWords(at: string): string {
  return dayWords(dayNumber(at.slice(0, 10)));
}

/** "12 Jan, now 19 Jan"; of two years each with its own; of one day with the clock: "12 Jan at 8:00, now at 14:00". */
function fromTo(was: string, is: string): string {
  if (was.slice(0, 4) !== is.slice(0, 4)) {
    return [was, is].map((at) => formatDay(at.slice(0, 10), "en-US", "withYear")).join(", now ");
  }
  if (was.slice(0, 10) !== is.slice(0, 10)) return `${startWords(was)}, now ${startWords(is)}`;
  return `${startWords(was)} at ${clock(was)}, now at ${clock(is)}`;
}

/** "8:00" of "2027-01-12T08:00". */
function clock(at: string): string {
  return at.slice(11).replace(/^0/, "");
}

/** Every change in a line of its own, runs before brews, each by day. */
export function oldDayLines({ oldDays, malthouse }: Year): string[] {
  const numbers = new Map(malthouse.runs.map(({ id, number }) => [id, number]));
  const runs = oldDays.runs.map(({ id, name, words }) => {
    const number = id === null ? undefined : numbers.get(id);
    return `${
      upperFirst(number === undefined ? name : `run ${number}, ${name.replace(/^run of /, "")}`)
    }: ${words}`;
  });
  return [...runs, ...oldDays.brews.map(({ name, words }) => `${upperFirst(nameWords(name))}: ${words}`)];
}
