import type { Context } from "../../../core/audit/context.ts";
import { minuteOf } from "../../../core/calendar.ts";
import type { HandOver, Profile } from "../../../core/season/malthouse.ts";
import { instantOf, localDay, wallTime } from "../../../core/zone.ts";

/** Epoch minutes of a run's hand-overs. */
export type Timing = Readonly<Record<HandOver, number>>;

const STEPS = [["steep", "castToBed"], ["bed", "kilnLoading"], ["kiln", "strip"]] as const;

/**
 * The one timing of a profile from a day and a time `HH:MM`: each stage its usual hours, or the staffed minute nearest
 * to that inside its limits, the earlier of two. Null when nobody is there.
 */
export function timingOf(ctx: Context, profile: Profile, day: number, time: string): Timing | null {
  const minute = Number(time.slice(0, 2)) * 60 + Number(time.slice(3));
  const timing = {
    steepIn: instantOf(ctx.zone, day, minute),
    castToBed: 0,
    kilnLoading: 0,
    strip: 0,
  };
  if (!staffed(ctx, timing.steepIn, "steepIn")) return null;
  let start = timing.steepIn;
  for (const [stage, handOver] of STEPS) {
    const { least, usual, greatest } = profile[stage];
    const end = nearest(ctx, handOver, start + least * 60, start + usual * 60, start + greatest * 60);
    if (end === null) return null;
    timing[handOver] = end;
    start = end;
  }
  return timing;
}

function staffed(ctx: Context, moment: number, handOver: HandOver): boolean {
  const minute = minuteOf(wallTime(ctx.zone, moment));
  return ctx.roster.open(localDay(ctx.zone, moment), minute, handOver).length > 0;
}

function nearest(ctx: Context, handOver: HandOver, least: number, usual: number, most: number) {
  for (let off = 0; usual - off >= least || usual + off <= most; off++) {
    for (const moment of [usual - off, usual + off]) {
      if (moment >= least && moment <= most && staffed(ctx, moment, handOver)) return moment;
    }
  }
  return null;
}
