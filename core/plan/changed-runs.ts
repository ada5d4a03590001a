import type { Plan, PlanRun } from "./plan.ts";

/** A run that both plans have, with another start, vessel or load. */
export interface MovedRun {
  readonly before: PlanRun;
  readonly after: PlanRun;
}

/** What has become of the runs of a plan in another one, from the other's as-of on. */
export interface RunChanges {
  /** Matched runs that are changed, in the sense of the stated price of a changed run. */
  readonly moved: readonly MovedRun[];
  readonly added: readonly PlanRun[];
  readonly gone: readonly PlanRun[];
}

/** A load that differs by no more than this share is the same load. */
export const SAME_LOAD = 0.05;

/**
 * Matches the runs of two plans that start from the second one's as-of on and are not under way: by lot and malt, of those the ones
 * that start alike or are one booking, the rest in order of their start. Names are no keys: a run is known by what it is.
 */
export function changedRuns(before: Plan, after: Plan): RunChanges {
  const ahead = (run: PlanRun) => run.steepInAt >= after.asOf && run.standing !== "under way";
  const kind = (run: PlanRun) => `${run.draws[0]!.lotId} ${run.maltId}`;
  const moved: MovedRun[] = [], added: PlanRun[] = [], gone: PlanRun[] = [];
  const was = Map.groupBy(before.runs.filter(ahead), kind), is = Map.groupBy(after.runs.filter(ahead), kind);
  for (const key of new Set([...was.keys(), ...is.keys()])) {
    for (const [old, now] of pairUp(was.get(key) ?? [], is.get(key) ?? [])) {
      if (old === null) added.push(now!);
      else if (now === null) gone.push(old);
      else if (isChanged(old, now)) moved.push({ before: old, after: now });
    }
  }
  return { moved, added, gone };
}

/**
 * How many runs are otherwise than before, whichever way: those that moved, and of those that came and went the more. A run that
 * changes its lot or malt counts once, though it matches nothing.
 */
export function unrestOf({ moved, added, gone }: RunChanges): number {
  return moved.length + Math.max(added.length, gone.length);
}

type Pair = [PlanRun | null, PlanRun | null];

function pairUp(before: readonly PlanRun[], after: readonly PlanRun[]): Pair[] {
  const pairs: Pair[] = [];
  let was = before;
  const is = [...after];
  // Of two that start alike in two lines each keeps to its own vessels.
  for (const alike of [isUnmoved, startsAlike]) {
    was = was.filter((old) => {
      const index = is.findIndex((now) => alike(old, now));
      if (index >= 0) pairs.push([old, is.splice(index, 1)[0]!]);
      return index < 0;
    });
  }
  was.forEach((old, index) => pairs.push([old, is[index] ?? null]));
  is.slice(was.length).forEach((now) => pairs.push([null, now]));
  return pairs;
}

function startsAlike(a: PlanRun, b: PlanRun): boolean {
  return a.steepInAt === b.steepInAt || (a.id === b.id && a.standing === "booked");
}

function isUnmoved(a: PlanRun, b: PlanRun): boolean {
  const { vesselIds: was } = a, { vesselIds: is } = b;
  return a.steepInAt === b.steepInAt && was.steep === is.steep && was.bed === is.bed && was.kiln === is.kiln;
}

function isChanged(before: PlanRun, after: PlanRun): boolean {
  return !isUnmoved(before, after) || Math.abs(after.cleanG - before.cleanG) > SAME_LOAD * before.cleanG;
}
