/** Turns by hand that fall outside all windows of the roster. */
import { minuteOf } from "../calendar.ts";
import { localDay, wallTime } from "../zone.ts";
import type { Context } from "./context.ts";

/** Turns are counted for the first twelve weeks of a stay in a bed: no grain lies there longer, and absurd times end somewhere. */
export const LONGEST_STAY_MINUTES = 2000 * 60;

/** One turn at night, at or after as-of. */
export interface NightTurn {
  readonly runId: string;
  readonly vesselId: string;
  readonly day: number;
  readonly costCents: number;
  /** True when the run was begun before as-of: its grain lies in the bed, or has to. */
  readonly fact: boolean;
}

/** All night turns still to come, of every run whose bed is turned by hand. */
export function nightTurns(ctx: Context): NightTurn[] {
  const found: NightTurn[] = [];
  for (const { run, record, at, ordered } of ctx.runs) {
    const turning = ctx.vessels.get(run.vesselIds.bed)?.turning;
    const cast = at.castToBed, end = Math.min(at.kilnLoading, cast + LONGEST_STAY_MINUTES);
    if (turning?.by !== "hand" || !ordered) continue;
    for (let turn = 1;; turn++) {
      const moment = cast + Math.round(turn * turning.everyHours * 60);
      if (moment >= end) break;
      if (moment < ctx.asOf) continue;
      const day = localDay(ctx.zone, moment), minute = minuteOf(wallTime(ctx.zone, moment));
      const staffed = ctx.roster.windowsOn(day).some((window) =>
        window.from <= minute && minute <= window.to
      );
      if (!staffed) {
        const { bed: vesselId } = run.vesselIds;
        found.push({
          runId: run.id,
          vesselId,
          day,
          costCents: turning.nightTurnCents,
          fact: record !== undefined,
        });
      }
    }
  }
  return found;
}
