import { dayNumber } from "../calendar.ts";
import { awakeSince, lotClock, suitsMalt } from "../season/clocks.ts";
import type { Lot } from "../season/grain.ts";
import { donPpmOf, holdsTreatedSeed, isLocked } from "../season/lock.ts";
import type { Season } from "../season/season.ts";
import type { LotState, LotStretch } from "./stores-band.ts";

/** A lot's year as it is drawn, over all malts it may become: it is ready while it may be steeped for one of them. */
export interface LotYear {
  readonly state: (day: number) => LotState;
  /** Its last malting day, when that falls before the end of the plan. */
  readonly lastMaltingDay: { readonly day: number; readonly reason: string } | null;
}

/** When a lot sleeps, is ready, is past its date, waits for a result, is for feed only or is locked. */
export function lotYear(season: Season, lot: Lot, planEnd: number): LotYear {
  if (holdsTreatedSeed(season, lot)) return always("locked");
  if (lot.use === "feed") return always("feed");
  if (lot.use === "held") return always("awaiting");
  if (lot.use === "raw") return always(isLocked(season, lot) ? "locked" : "ready");
  const malts = season.maltTypes.filter((malt) => suitsMalt(season, lot, malt));
  // Nothing can be made from it: its results failed every malt, no malt takes its crop, or its owner has not ordered any.
  if (malts.length === 0) return always(mayBeFed(season, lot) ? "feed" : "locked");

  const tested = { ...lot, analyses: lot.analyses.filter((one) => one.resultOn !== undefined) };
  const clocks = malts.map((malt) => {
    const { firstDay, blockedBy, lastDay } = lotClock(season, tested, malt, season.asOf);
    // What is too old today may have been ready before.
    const since = blockedBy === "too old" ? awakeSince(season, tested, malt, season.asOf) : firstDay;
    return { from: since ?? Infinity, to: lastDay };
  });
  const lastDay = Math.max(...clocks.map(({ to }) => to));
  const awaited = lot.analyses.filter((one) => one.resultOn === undefined);
  const sampledOn = Math.min(...awaited.map((one) => dayNumber(one.sampledOn)));
  const expectedOn = Math.max(
    ...awaited.map((one) => one.expectedOn === undefined ? Infinity : dayNumber(one.expectedOn)),
  );
  return {
    state: (day) => {
      if (day > lastDay) return "past";
      if (day >= sampledOn && day < expectedOn) return "awaiting";
      return clocks.some(({ from, to }) => from <= day && day <= to) ? "ready" : "asleep";
    },
    lastMaltingDay: lastDay > planEnd ? null : { day: lastDay, reason: reasonOf(lot, lastDay) },
  };
}

/** Whether some buyer of feed takes grain like this, and it is the farm's to sell. */
function mayBeFed(season: Season, lot: Lot): boolean {
  return lot.owner === "farm" &&
    season.feedPickups.some((one) =>
      one.crops.includes(lot.crop) && (donPpmOf(season, lot) ?? 0) <= one.donPpmMost
    );
}

function always(state: LotState): LotYear {
  return { state: () => state, lastMaltingDay: null };
}

function reasonOf(lot: Lot, lastDay: number): string {
  if (lot.useBy !== undefined && dayNumber(lot.useBy.on) === lastDay) return lot.useBy.reason;
  return "germination falls below what the malts ask";
}

/** The states of the days `from` to `to` as stretches. */
export function stretchesOf(year: LotYear, from: number, to: number): LotStretch[] {
  const stretches: { from: number; to: number; state: LotState }[] = [];
  for (let day = from; day <= to; day++) {
    const state = year.state(day);
    const last = stretches.at(-1);
    if (last?.state === state) last.to = day;
    else stretches.push({ from: day, to: day, state });
  }
  return stretches;
}
