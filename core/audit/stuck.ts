/**
 * Runs under way that no timing can finish within the rules. A run that was begun stands in every plan, so where its
 * record and the farm's hours leave no way out, what it breaks is not the plan's doing.
 */
import { HAND_OVERS, type HandOver, STAGES } from "../season/malthouse.ts";
import { instant, instantOf, localDay } from "../zone.ts";
import type { Ground } from "./context.ts";
import { LONGEST_STAY_MINUTES } from "./night-turns.ts";
import { firedAlone } from "./people.ts";
import { momentOf } from "./roster.ts";
import type { RunView } from "./run-view.ts";
import { across, common, joined, type Span } from "./spans.ts";
import { HOURS_TOLERANCE, stageHours } from "./times.ts";
import { cleaningHours, recordedStays, type Stay, stays } from "./vessels.ts";

const LAST_MINUTE = 1439;

/** Minutes of a stretch at which somebody is there for a hand-over. */
function staffed(ctx: Ground, handOver: HandOver, [from, to]: Span): Span[] {
  const spans: Span[] = [];
  for (let day = localDay(ctx.zone, from); day <= localDay(ctx.zone, to); day++) {
    if (ctx.roster.closed(day, handOver)) continue;
    for (const window of ctx.roster.windowsOn(day)) {
      if (!window.handOvers.includes(handOver)) continue;
      const last = Math.min(window.to, LAST_MINUTE);
      spans.push([momentOf(ctx.zone, day, window.from), momentOf(ctx.zone, day, last)]);
    }
  }
  return joined(spans);
}

/** Stretches in which a stage to come may lie: its vessel is not closed and, for a kiln, a maltster is there. */
function freeFor(ctx: Ground, view: RunView, place: number, [from, to]: Span): readonly Span[] {
  const { run, fact } = view, vesselId = run.vesselIds[STAGES[place]!];
  let first = place;
  while (first > 0 && run.vesselIds[STAGES[first - 1]!] === vesselId) first--;
  // A load that lies in its vessel already lies there, closed or not.
  const closures = fact[HAND_OVERS[first]!] ? [] : ctx.vessels.get(vesselId)?.closures ?? [];
  const taken = closures.map((one): Span => [instant(ctx.zone, one.from), instant(ctx.zone, one.to)]);
  if (STAGES[place] === "kiln" && !fact.kilnLoading) {
    for (let day = localDay(ctx.zone, from); day <= localDay(ctx.zone, to); day++) {
      if (!firedAlone(ctx, vesselId, day)) continue;
      taken.push([instantOf(ctx.zone, day, 0), instantOf(ctx.zone, day + 1, 0)]);
    }
  }
  const free: Span[] = [];
  let since = -Infinity;
  for (const [start, end] of taken.sort((a, b) => a[0] - b[0])) {
    if (start >= since) free.push([since, start]);
    since = Math.max(since, end);
  }
  return [...free, [since, Infinity]];
}

/** First and last minute of each hand-over of a run under way, and whether it has a way out by itself. */
interface Outlook {
  readonly spans: readonly Span[];
  readonly stuck: boolean;
}

function outlook(ctx: Ground, view: RunView): Outlook | undefined {
  const next = HAND_OVERS.findIndex((handOver) => !view.fact[handOver]);
  const limits = STAGES.map((stage) => stageHours(view, stage));
  if (next < 1 || limits.includes(undefined)) return undefined;
  const lengths = limits.map((limit): Span => [
    Math.ceil((limit!.least - HOURS_TOLERANCE) * 60),
    Math.floor((limit!.greatest + HOURS_TOLERANCE) * 60),
  ]);
  const begun = view.at[HAND_OVERS[next - 1]!];
  // Grain that has lain too long already may lie on until somebody is there.
  if (begun + lengths[next - 1]![1] < ctx.asOf) {
    lengths[next - 1] = [lengths[next - 1]![0], ctx.asOf + LONGEST_STAY_MINUTES - begun];
  }
  const spans: Span[] = [], open: Span[][] = [];
  HAND_OVERS.forEach((handOver, place) => {
    const at = view.at[handOver], before = spans[place - 1], length = lengths[place - 1];
    if (place < next || before === undefined || length === undefined) {
      spans.push([at, at]);
      open.push([[at, at]]);
      return;
    }
    const span: Span = [Math.max(ctx.asOf, before[0] + length[0]), before[1] + length[1]];
    const free = freeFor(ctx, view, place - 1, [before[0], span[1]]);
    spans.push(span);
    open.push(
      common(common(across(open[place - 1]!, length, free), [span]), staffed(ctx, handOver, span)),
    );
  });
  for (let place = HAND_OVERS.length - 2; place >= next; place--) {
    const [least, greatest] = lengths[place]!;
    const free = freeFor(ctx, view, place, [spans[place]![0], spans[place + 1]![1]]);
    open[place] = common(open[place]!, across(open[place + 1]!, [-greatest, -least], free));
  }
  if (open.some((ways) => ways.length === 0)) return { spans, stuck: true };
  return { spans: open.map((ways): Span => [ways[0]![0], ways.at(-1)![1]]), stuck: false };
}

/** A load of a begun run, as early and as late as it can be. */
interface Load {
  readonly early: Stay;
  readonly late: Stay;
}

function loadsOf({ run, crop, fact }: RunView, spans: readonly Span[]): Load[] {
  const facts = HAND_OVERS.map((handOver) => fact[handOver]);
  const at = (end: 0 | 1) => stays(run.id, crop, run.vesselIds, spans.map((span) => span[end]), facts, true);
  const late = at(1);
  return at(0).map((early, place) => ({ early, late: late[place]! }));
}

/** True when a load can be out, and its vessel clean, in time for another. */
function canPrecede(ctx: Ground, { early }: Load, { late }: Load): boolean {
  const vessel = ctx.vessels.get(early.vesselId);
  return vessel === undefined ||
    early.end + cleaningHours(vessel, early.crop, late.crop) * 60 <= late.start + 1e-9;
}

/**
 * Ids of the runs under way that cannot be finished within stage hours, staffed minutes, open vessels and kiln days, or
 * that are bound to meet another begun run in a vessel. Their hours (but the least), hand-overs, closures, kiln days and
 * meetings with other begun runs are not judged. What the plan itself adds must still keep out of their way.
 */
export function stuckRuns(ctx: Ground): ReadonlySet<string> {
  const stuck = new Set<string>(), loads: Load[] = [];
  for (const view of ctx.runs) {
    const ahead = view.record === undefined ? undefined : outlook(ctx, view);
    if (ahead === undefined) continue;
    if (ahead.stuck) stuck.add(view.run.id);
    loads.push(...loadsOf(view, ahead.spans));
  }
  const over = ctx.season.records.runs.filter((run) => !ctx.underWay.has(run.id))
    .flatMap((run) => recordedStays(ctx, run)).map((stay): Load => ({ early: stay, late: stay }));
  for (const load of loads.filter(({ early }) => !early.fact)) {
    const meets = [...over, ...loads].some((other) =>
      other.early.vesselId === load.early.vesselId && other.early.runId !== load.early.runId &&
      !canPrecede(ctx, other, load) && !canPrecede(ctx, load, other)
    );
    if (meets) stuck.add(load.early.runId);
  }
  return stuck;
}
