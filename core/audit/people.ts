/** Is somebody there: at every hand-over, at the turned bed, on kiln days, and not too often at night. */
import { minuteOf, weekday } from "../calendar.ts";
import { HAND_OVERS } from "../season/malthouse.ts";
import { localDay } from "../zone.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context, Ground } from "./context.ts";
import { LONGEST_STAY_MINUTES, nightTurns } from "./night-turns.ts";
import { momentOf } from "./roster.ts";
import { handOverAt, type RunView } from "./run-view.ts";
import { HAND_OVER_NAME } from "./times.ts";
import { dayWords, spoken } from "./words.ts";

function handOvers(ctx: Context, view: RunView): Breach[] {
  const { run, day, fact } = view;
  return HAND_OVERS.flatMap((handOver) => {
    const at = handOverAt(run, handOver);
    if (
      fact[handOver] || ctx.stuck.has(run.id) ||
      ctx.roster.open(day[handOver], minuteOf(at), handOver).length > 0
    ) return [];
    const message = `Nobody is there for the ${HAND_OVER_NAME[handOver]} of run ${run.id} at ${at}.`;
    const what = `${HAND_OVER_NAME[handOver]} at ${at}`;
    return [breach("hand-over-staffed", run.id, day[handOver], what, "a staffed minute", message)];
  });
}

/** Longest stretch of a stay with nobody there, in minutes, and where it ends. */
function longestGap(ctx: Context, start: number, end: number): { minutes: number; until: number } {
  const there: { from: number; to: number }[] = [{ from: end, to: end }];
  for (let day = localDay(ctx.zone, start) - 1; day <= localDay(ctx.zone, end); day++) {
    for (const window of ctx.roster.windowsOn(day)) {
      there.push({ from: momentOf(ctx.zone, day, window.from), to: momentOf(ctx.zone, day, window.to) });
    }
    for (const minute of ctx.roster.lookInsOn(day)) {
      const moment = momentOf(ctx.zone, day, minute);
      there.push({ from: moment, to: moment });
    }
  }
  let seen = start, longest = { minutes: 0, until: start };
  for (const stretch of there.sort((a, b) => a.from - b.from)) {
    const from = Math.min(stretch.from, end);
    if (from - seen > longest.minutes) longest = { minutes: from - seen, until: from };
    seen = Math.max(seen, Math.min(stretch.to, end));
  }
  return longest;
}

function lookIns(ctx: Context, view: RunView): Breach[] {
  const { run, record, at, ordered } = view;
  const turning = ctx.vessels.get(run.vesselIds.bed)?.turning;
  // Grain that is steeped already lies in its bed, or has to, whatever the roster says.
  if (turning?.by !== "machine" || record !== undefined || !ordered) return [];
  if (at.kilnLoading - at.castToBed > LONGEST_STAY_MINUTES) return [];
  const gap = longestGap(ctx, at.castToBed, at.kilnLoading);
  if (gap.minutes <= turning.lookInEveryHours * 60 + 1e-9) return [];
  const hours = `${spoken(gap.minutes / 60)} h`, limit = `${spoken(turning.lookInEveryHours)} h`;
  const day = localDay(ctx.zone, gap.until);
  const message = `Nobody looks at run ${run.id} in its bed for ${hours} up to ${
    dayWords(day)
  }; the longest allowed is ${limit}.`;
  return [breach("look-in-gap", run.id, day, hours, limit, message)];
}

/** True when a kiln that wants to be looked at would be fired on a day with no maltster on the farm. */
export function firedAlone(ctx: Ground, kilnId: string, day: number): boolean {
  const { people } = ctx.season;
  if (ctx.vessels.get(kilnId)?.firedLookInEveryHours === undefined || people.length === 0) return false;
  const maltsters = people.filter((person) => person.roles.includes("maltster"));
  const able = maltsters.length > 0 ? maltsters : people;
  return able.every((person) => ctx.roster.away(person.id, day));
}

function kilnDays(ctx: Context, view: RunView): Breach[] {
  const { run, at, fact, ordered } = view, kiln = ctx.vessels.get(run.vesselIds.kiln);
  if (kiln === undefined || fact.kilnLoading || ctx.stuck.has(run.id) || !ordered) return [];
  if (at.strip <= at.kilnLoading || at.strip - at.kilnLoading > LONGEST_STAY_MINUTES) return [];
  const found: Breach[] = [];
  const last = localDay(ctx.zone, at.strip - 1);
  for (let day = localDay(ctx.zone, at.kilnLoading); day <= last; day++) {
    if (!firedAlone(ctx, kiln.id, day)) continue;
    const message = `${kiln.name} is fired for run ${run.id} on ${dayWords(day)}, when no maltster is there.`;
    found.push(breach("kiln-alone", run.id, day, "nobody", "a maltster on the farm", message));
  }
  return found;
}

function nights(ctx: Context): Breach[] {
  const weeks = new Map<
    string,
    { vesselId: string; start: number; turns: number; free: string | undefined }
  >();
  for (const turn of nightTurns(ctx)) {
    const start = turn.day - (weekday(turn.day) - ctx.season.weekStartsOn + 7) % 7;
    const key = `${turn.vesselId} ${start}`;
    const week = weeks.get(key) ?? { vesselId: turn.vesselId, start, turns: 0, free: undefined };
    weeks.set(key, { ...week, turns: week.turns + 1, free: turn.fact ? week.free : turn.runId });
  }
  return [...weeks.values()].flatMap(({ vesselId, start, turns, free }) => {
    const turning = ctx.vessels.get(vesselId)?.turning;
    if (turning?.by !== "hand" || turns <= turning.mostNightTurnsPerWeek || free === undefined) return [];
    const limit = `${turning.mostNightTurnsPerWeek} turns`;
    const message = `In the week of ${dayWords(start)} bed ${vesselId} asks for ${turns} turns at night; ` +
      `${turning.mostNightTurnsPerWeek} are allowed.`;
    return [breach("night-turns", free, start, `${turns} turns`, limit, message)];
  });
}

/** Staffing of every run, and the nights of every bed. */
export function peopleThere(ctx: Context): Breach[] {
  return [
    ...ctx.runs.flatMap((
      view,
    ) => [...handOvers(ctx, view), ...lookIns(ctx, view), ...kilnDays(ctx, view)]),
    ...nights(ctx),
  ];
}
