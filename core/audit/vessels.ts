/** Vessels: right stage, right line, one load at a time, clean in between, never closed while in use. */
import { HAND_OVERS, STAGES, type Vessel } from "../season/malthouse.ts";
import type { Crop } from "../season/quantity.ts";
import type { RecordedRun } from "../season/records.ts";
import { instant, localDay } from "../zone.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context, Ground } from "./context.ts";
import { recordedAt } from "./run-view.ts";
import { dayWords, spoken } from "./words.ts";

/** A load in a vessel, half-open, in epoch minutes. `fact` says that it was already put in, `recorded` that its run was begun. */
export interface Stay {
  readonly vesselId: string;
  readonly runId: string;
  readonly crop: Crop | undefined;
  readonly start: number;
  readonly end: number;
  readonly fact: boolean;
  readonly recorded: boolean;
}

/** Stages one after another in one vessel are one stay: the load is not taken out. */
export function stays(
  runId: string,
  crop: Crop | undefined,
  vesselIds: Readonly<Record<(typeof STAGES)[number], string>>,
  times: readonly (number | undefined)[],
  facts: readonly boolean[],
  recorded: boolean,
): Stay[] {
  const found: Stay[] = [];
  STAGES.forEach((stage, place) => {
    const start = times[place], end = times.slice(place + 1).find((time) => time !== undefined);
    if (start === undefined || end === undefined) return;
    const before = found.at(-1);
    if (before !== undefined && before.vesselId === vesselIds[stage]) {
      found[found.length - 1] = { ...before, end };
    } else {
      const fact = facts[place] === true;
      found.push({ vesselId: vesselIds[stage], runId, crop, start, end, fact, recorded });
    }
  });
  return found;
}

/** Where the load of a run that is over has lain. */
export function recordedStays(ctx: Ground, record: RecordedRun): Stay[] {
  const last = record.endedAt === undefined ? undefined : instant(ctx.zone, record.endedAt);
  const times = HAND_OVERS.map((handOver) => {
    const at = recordedAt(record, handOver);
    return at === undefined ? undefined : instant(ctx.zone, at);
  });
  // A run that was given up leaves its vessel at its end; what it never reached has no time.
  const ends = last === undefined ? times : [...times, last];
  const crop = ctx.lots.get(record.draws[0]!.lotId)?.crop;
  return stays(record.id, crop, record.vesselIds, ends, [true, true, true], true);
}

/** All loads, of the runs that are over and of the plan's, by vessel and in order. */
function loadsByVessel(ctx: Context): Map<string, Stay[]> {
  const over = ctx.season.records.runs.filter((run) => !ctx.underWay.has(run.id));
  const all = [
    ...over.flatMap((record) => recordedStays(ctx, record)),
    // A run whose hand-overs are out of order lies nowhere; that is a breach of its own.
    ...ctx.runs.filter((view) => view.ordered).flatMap(({ run, record, crop, at, fact }) =>
      stays(
        run.id,
        crop,
        run.vesselIds,
        HAND_OVERS.map((handOver) => at[handOver]),
        HAND_OVERS.map((handOver) => fact[handOver]),
        record !== undefined,
      )
    ),
  ];
  const byVessel = new Map<string, Stay[]>();
  for (const stay of all) {
    const list = byVessel.get(stay.vesselId);
    if (list === undefined) byVessel.set(stay.vesselId, [stay]);
    else list.push(stay);
  }
  for (const list of byVessel.values()) list.sort((a, b) => a.start - b.start || a.end - b.end);
  return byVessel;
}

/** Hours from emptied to ready for the next crop. */
export function cleaningHours(vessel: Vessel, from: Crop | undefined, to: Crop | undefined): number {
  return vessel.changeOver.find((entry) => entry.from === from && entry.to === to)?.hours ??
    vessel.cleaningHours;
}

function between(ctx: Context, vessel: Vessel, before: Stay, next: Stay): Breach[] {
  const day = localDay(ctx.zone, next.start), gapHours = (next.start - before.end) / 60;
  if (gapHours < 0) {
    const message = `On ${dayWords(day)} run ${next.runId} goes into ${vessel.name} ${
      spoken(-gapHours)
    } h before run ${before.runId} has left it.`;
    return [breach("vessel-two-loads", next.runId, day, "two loads", "one load", message)];
  }
  const hours = cleaningHours(vessel, before.crop, next.crop);
  if (gapHours >= hours - 1e-9) return [];
  const message = `On ${dayWords(day)} run ${next.runId} goes into ${vessel.name} ${
    spoken(gapHours)
  } h after run ${before.runId} left it; cleaning takes ${spoken(hours)} h.`;
  const limit = `${spoken(hours)} h`;
  return [breach("vessel-cleaning", next.runId, day, `${spoken(gapHours)} h`, limit, message)];
}

function closures(ctx: Context, vessel: Vessel, loads: readonly Stay[]): Breach[] {
  const found: Breach[] = [];
  for (const closure of vessel.closures) {
    const from = instant(ctx.zone, closure.from), to = instant(ctx.zone, closure.to);
    for (const stay of loads) {
      if (stay.fact || ctx.stuck.has(stay.runId) || stay.start >= to || from >= stay.end) continue;
      const message = `${vessel.name} is closed from ${closure.from} to ${closure.to} (${closure.reason}), ` +
        `but run ${stay.runId} lies in it.`;
      const day = localDay(ctx.zone, Math.max(from, stay.start));
      found.push(breach("vessel-closed", stay.runId, day, "in use", `closed to ${closure.to}`, message));
    }
  }
  return found;
}

function loads(ctx: Context): Breach[] {
  const found: Breach[] = [];
  for (const [vesselId, list] of loadsByVessel(ctx)) {
    const vessel = ctx.vessels.get(vesselId);
    if (vessel === undefined) continue;
    list.forEach((next, place) => {
      if (next.fact) return;
      for (const before of list.slice(0, place)) {
        // Two runs that were begun may have been bound to meet.
        if (ctx.stuck.has(next.runId) && before.recorded) continue;
        found.push(...between(ctx, vessel, before, next));
      }
    });
    found.push(...closures(ctx, vessel, list));
  }
  return found;
}

function fitness(ctx: Context): Breach[] {
  const found: Breach[] = [];
  for (const { run, record, crop, day } of ctx.runs) {
    if (record !== undefined) continue;
    const lines = new Set<string>();
    for (const stage of STAGES) {
      const vessel = ctx.vessels.get(run.vesselIds[stage]);
      if (vessel === undefined) continue;
      if (vessel.line !== undefined) lines.add(vessel.line);
      if (!vessel.stages.includes(stage)) {
        const message = `Run ${run.id} uses ${vessel.name} as ${stage}; it serves ${
          vessel.stages.join(", ")
        }.`;
        found.push(
          breach("vessel-stage", run.id, day.steepIn, stage, vessel.stages.join(", "), message),
        );
      }
      if (crop !== undefined && !vessel.loadLimits.some((entry) => entry.crop === crop)) {
        const takes = vessel.loadLimits.map((entry) => entry.crop).join(", ");
        const message = `Run ${run.id} puts ${crop} into ${vessel.name}, which does not take it.`;
        found.push(breach("vessel-crop", run.id, day.steepIn, crop, takes, message));
      }
    }
    if (lines.size > 1) {
      const names = [...lines].join(", ");
      const message = `Run ${run.id} changes from line to line: ${names}.`;
      found.push(breach("vessel-line", run.id, day.steepIn, names, "one line", message));
    }
  }
  return found;
}

/** Fitness of the vessels and what lies in them when. */
export function vesselsServe(ctx: Context): Breach[] {
  return [...fitness(ctx), ...loads(ctx)];
}
