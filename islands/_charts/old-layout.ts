import type { OldBrew, OldRun } from "../../core/year/old-days.ts";
import type { Year } from "../../core/year/year.ts";
import type { BrewsLayout } from "./brews-layout.ts";
import type { Frame } from "./frame.ts";
import type { Line } from "./malthouse-layout.ts";

/** Height of the lane over the stairs, and over the sticks, in which hair lines lead from old places to new ones. */
const LANE = 9;
/** Where one thing's hair line begins and ends, from the left edge of the thing: lines of neighbours do not meet. */
const BEGINS = 3, ENDS = 0.5;
/** Longer lines, in units, would lead across too much; shorter ones would be a blot. */
const FARTHEST = 84, NEAREST = 2.5;
/** Room between two lines of a lane, and around a sign that stands in it. */
const APART = 1.5, AROUND = 5;

/** A hair line from where a thing was to where it is, by the thing's id. */
export interface Link {
  readonly id: string;
  readonly from: number;
  readonly to: number;
}

/** A hair line at one of two heights: the upper one passes over lower ones, as where two things change places. */
export interface LinkAt extends Link {
  readonly level: 0 | 1;
}

/** Height of the lane that a band keeps free: none when nothing is told of old days. */
export function runLane({ oldDays }: Year): number {
  return oldDays.runs.length > 0 ? LANE : 0;
}

/** The same over the brews. */
export function brewLane({ oldDays }: Year): number {
  return oldDays.brews.length > 0 ? LANE : 0;
}

/** A sign in a lane, over a thing that is new or no longer planned. */
export interface Sign {
  readonly kind: "new" | "gone";
  readonly x: number;
}

/** What stands in the lane over one row of stairs or over the sticks. */
export interface Lane {
  readonly signs: readonly Sign[];
  readonly links: readonly LinkAt[];
}

/** The old runs that lay in a row of stairs, and what stands in the lane over it. */
export function oldRunsOf(year: Year, line: Line, frame: Frame): { ghosts: OldRun[]; lane: Lane } {
  const now = new Map(line.runs.map((run) => [run.id, run.stages[0]?.start ?? Infinity]));
  const bedOf = ({ was }: OldRun) => was.find(({ stage }) => stage === "bed")?.vesselId;
  const { runs } = year.oldDays;
  const ghosts = runs.filter((one) => bedOf(one) === line.bed && isShown(one.was, frame));
  const fresh = runs.filter(({ became, id, day }) =>
    became === "new" && id !== null && now.has(id) && day < frame.toDay
  );
  return {
    ghosts,
    lane: laneOf(
      [
        ...fresh.map(({ day }): Sign => ({ kind: "new", x: frame.x(day) })),
        ...ghosts.filter(({ became }) => became === "gone").map(({ day }): Sign => ({
          kind: "gone",
          x: frame.x(day),
        })),
      ],
      ghosts.flatMap(({ id, was }) => {
        const to = now.get(id ?? "");
        return id === null || to === undefined || to >= frame.toDay
          ? []
          : [{ id, from: frame.x(was[0]!.start), to: frame.x(to) }];
      }),
    ),
  };
}

function isShown(was: OldRun["was"], frame: Frame): boolean {
  const first = was[0], last = was.at(-1);
  return first !== undefined && first.start < frame.toDay && last!.end > frame.fromDay;
}

/** Brews that stood on another day, or stand no more, and what stands in the lane over the sticks. */
export function oldBrewsOf(
  { oldDays }: Year,
  { sticks }: Pick<BrewsLayout, "sticks">,
  frame: Frame,
): { ghosts: OldBrew[]; lane: Lane } {
  const now = new Map(sticks.map(({ brew, left }) => [brew.id, { left, day: brew.day }]));
  // A brew that is no longer made stands on the day it was asked for all the same, crossed out.
  const ghosts = oldDays.brews.filter(({ id, was }) => isOn(was, frame) && now.get(id)?.day !== was);
  const fresh = oldDays.brews.filter(({ became, id }) => became === "new" && now.has(id));
  return {
    ghosts,
    lane: laneOf(
      [
        ...fresh.map(({ id }): Sign => ({ kind: "new", x: now.get(id)!.left })),
        ...oldDays.brews.filter(({ became, was }) => became === "gone" && isOn(was, frame)).map((
          { id, was },
        ): Sign => ({ kind: "gone", x: now.get(id)?.day === was ? now.get(id)!.left : frame.x(was!) })),
      ],
      ghosts.flatMap(({ became, id, was }) => {
        const to = now.get(id);
        return became !== "moved" || to === undefined ? [] : [{ id, from: frame.x(was!), to: to.left }];
      }),
    ),
  };
}

function isOn(day: number | null, frame: Frame): boolean {
  return day !== null && day >= frame.fromDay && day < frame.toDay;
}

/**
 * Signs go from left to right, and where two would meet the later one moves on. Of the hair lines those stay that are near
 * and cross nothing in the lane, the shortest first; one that passes over others whole goes above them.
 */
export function laneOf(wantedSigns: readonly Sign[], wanted: readonly Link[]): Lane {
  const signs: Sign[] = [];
  for (const { kind, x } of wantedSigns.toSorted((a, b) => a.x - b.x)) {
    signs.push({ kind, x: Math.max(x, (signs.at(-1)?.x ?? -Infinity) + AROUND + APART) });
  }
  const links: LinkAt[] = [];
  const all = wanted.map(({ id, from, to }) => ({ id, from: from + BEGINS, to: to + ENDS }));
  for (const link of all.toSorted((a, b) => lengthOf(a) - lengthOf(b))) {
    if (lengthOf(link) > FARTHEST || lengthOf(link) < NEAREST) continue;
    const signMeets = signs.some(({ x }) => ends(link).some((end) => end > x - APART && end < x + AROUND));
    const level = ([0, 1] as const).find((one) =>
      links.every((other) => apart(link, other) || (other.level < one && encloses(link, other))) &&
      (one === 1 || signs.every(({ x }) => x + AROUND < ends(link)[0] || x - APART > ends(link)[1]))
    );
    if (level !== undefined && !signMeets) links.push({ ...link, level });
  }
  return { signs, links };
}

function ends({ from, to }: Link): readonly [left: number, right: number] {
  return [Math.min(from, to), Math.max(from, to)];
}

function lengthOf(link: Link): number {
  const [left, right] = ends(link);
  return right - left;
}

function apart(a: Link, b: Link): boolean {
  return ends(a)[1] + APART <= ends(b)[0] || ends(b)[1] + APART <= ends(a)[0];
}

function encloses(a: Link, b: Link): boolean {
  return ends(a)[0] + APART <= ends(b)[0] && ends(b)[1] + APART <= ends(a)[1];
}
