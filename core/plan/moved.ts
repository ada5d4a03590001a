import type { Plan, PlanRun } from "./plan.ts";

/** A run that both plans have, with another start, vessel or load. */
export interface MovedRun {
  readonly before: PlanRun;
  readonly after: PlanRun;
}

/** What a plan does otherwise than the one before it, from its as-of on. */
export interface Moved {
  readonly runs: {
    readonly moved: readonly MovedRun[];
    readonly added: readonly PlanRun[];
    readonly gone: readonly PlanRun[];
  };
  /** Ids of brews inside the horizon or its tail. */
  readonly brews: {
    readonly madeNow: readonly string[];
    readonly noLonger: readonly string[];
    readonly otherDay: readonly string[];
  };
  /** Feed more than before, grams. */
  readonly feedG: number;
  /** Home-share promises more than before. */
  readonly promises: number;
  /** What it costs more than before, cents; less is better. */
  readonly costCents: number;
}

/** A load that differs by less is the same load: `decisions.md`, "changed". */
const SAME_LOAD = 0.05;

/** Compares two plans of one season, or of a season before and after an edit. */
export function movedBetween(before: Plan, after: Plan): Moved {
  const ahead = (run: PlanRun) => run.steepInAt >= after.asOf && run.standing !== "under way";
  const made = (plan: Plan) => new Map(plan.brews.map((one) => [one.id, one.on]));
  const [was, is] = [made(before), made(after)];
  const feed = (plan: Plan) =>
    plan.feedLoads.filter((one) => one.on >= after.asOf.slice(0, 10))
      .flatMap((one) => one.items).reduce((sum, one) => sum + one.massG, 0);
  const today = after.asOf.slice(0, 10);
  return {
    runs: matched(before.runs.filter(ahead), after.runs.filter(ahead)),
    brews: {
      madeNow: [...is.keys()].filter((id) => !was.has(id)),
      noLonger: [...was].filter(([id, on]) => !is.has(id) && on >= today).map(([id]) => id),
      otherDay: [...is].filter(([id, on]) => was.has(id) && was.get(id) !== on).map(([id]) => id),
    },
    feedG: feed(after) - feed(before),
    promises: after.goals.promisesHeld - before.goals.promisesHeld,
    costCents: after.goals.moneyCents - before.goals.moneyCents,
  };
}

/** True when nothing that anybody does has changed. */
export function nothingMoved({ runs, brews, feedG, promises }: Moved): boolean {
  const lists = [runs.moved, runs.added, runs.gone, brews.madeNow, brews.noLonger, brews.otherDay];
  return lists.every((list) => list.length === 0) && feedG === 0 && promises === 0;
}

/** Runs of one lot and malt that start alike are the same run; the rest are matched in order. */
function matched(before: readonly PlanRun[], after: readonly PlanRun[]): Moved["runs"] {
  const moved: MovedRun[] = [], added: PlanRun[] = [], gone: PlanRun[] = [];
  const kind = (run: PlanRun) => `${run.draws[0]!.lotId} ${run.maltId}`;
  const was = Map.groupBy(before, kind), is = Map.groupBy(after, kind);
  for (const key of new Set([...was.keys(), ...is.keys()])) {
    const pairs = pairUp(was.get(key) ?? [], is.get(key) ?? []);
    for (const [old, now] of pairs) {
      if (old === null) added.push(now!);
      else if (now === null) gone.push(old);
      else if (isChanged(old, now)) moved.push({ before: old, after: now });
    }
  }
  return { moved, added, gone };
}

function pairUp(before: readonly PlanRun[], after: readonly PlanRun[]): [PlanRun | null, PlanRun | null][] {
  const alike = (a: PlanRun, b: PlanRun) =>
    a.steepInAt === b.steepInAt || (a.id === b.id && a.standing === "booked");
  const left = [...after];
  const pairs: [PlanRun | null, PlanRun | null][] = [];
  const alone: PlanRun[] = [];
  for (const old of before) {
    const index = left.findIndex((now) => alike(old, now));
    if (index < 0) alone.push(old);
    else pairs.push([old, left.splice(index, 1)[0]!]);
  }
  alone.forEach((old, index) => pairs.push([old, left[index] ?? null]));
  left.slice(alone.length).forEach((now) => pairs.push([null, now]));
  return pairs;
}

function isChanged(before: PlanRun, after: PlanRun): boolean {
  const { vesselIds: was } = before, { vesselIds: is } = after;
  const vessels = was.steep !== is.steep || was.bed !== is.bed || was.kiln !== is.kiln;
  const load = Math.abs(after.cleanG - before.cleanG) > SAME_LOAD * before.cleanG;
  return before.steepInAt !== after.steepInAt || vessels || load;
}
