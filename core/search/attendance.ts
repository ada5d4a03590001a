import { dayNumber, weekday } from "../calendar.ts";
import type { HandOver } from "../season/malthouse.ts";
import { HAND_OVERS } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { instantOf } from "../zone.ts";

/** A stretch of epoch minutes, both ends included. */
interface Stretch {
  from: number;
  to: number;
  /** Index into `roster.extra`, or -1 for a weekly window. */
  extra: number;
}

/** When somebody is at the vessels, in epoch minutes; sorted, so that the search can ask it quickly. */
export interface Attendance {
  /** Per hand-over: the stretches in which it may happen. */
  staffed: Record<HandOver, readonly Stretch[]>;
  /** All stretches with somebody there, hand-over or not, and the look-ins as stretches of no length. */
  present: readonly Stretch[];
  /** Weekly and extra windows alone: a turn outside them is a night turn. */
  windows: readonly Stretch[];
  /** Day numbers on which a kiln may be fired because somebody can look in. */
  firingDays: { has(day: number): boolean };
}

/** Minute of the epoch of a time of day; `24:00` is the next day's midnight. */
function minuteAt(zone: string, day: number, time: string): number {
  const minute = Number(time.slice(0, 2)) * 60 + Number(time.slice(3));
  return minute === 1440 ? instantOf(zone, day + 1, 0) : instantOf(zone, day, minute);
}

/** Works the roster out for every day from `firstDay` to `lastDay`, both included. */
export function attendanceOf(season: Season, firstDay: number, lastDay: number): Attendance {
  const { roster, zone } = season;
  const away = new Map(season.people.map((person) => [
    person.id,
    person.away.map((one) => [dayNumber(one.from), dayNumber(one.to)] as const),
  ]));
  const isAway = (personId: string | undefined, day: number) =>
    personId !== undefined && (away.get(personId)?.some(([from, to]) => day >= from && day <= to) ?? false);
  const closed = roster.closed.map((one) => ({
    from: dayNumber(one.from),
    to: dayNumber(one.to),
    handOvers: new Set<HandOver>(one.handOvers),
  }));
  const extraByDay = new Map<number, number[]>();
  roster.extra.forEach((one, index) => {
    const day = dayNumber(one.on);
    extraByDay.set(day, [...(extraByDay.get(day) ?? []), index]);
  });

  const staffed: Record<HandOver, Stretch[]> = { steepIn: [], castToBed: [], kilnLoading: [], strip: [] };
  const windows: Stretch[] = [];
  const present: Stretch[] = [];
  const firingDays = new Set<number>();
  const maltsters = season.people.filter((person) => person.roles.includes("maltster"));
  const keepers = maltsters.length > 0 ? maltsters : season.people;

  for (let day = firstDay; day <= lastDay; day++) {
    const of = weekday(day);
    const shut = closed.filter((one) => day >= one.from && day <= one.to);
    const open = (handOver: HandOver) => !shut.some((one) => one.handOvers.has(handOver));
    const put = (from: string, to: string, handOvers: readonly HandOver[], extra: number) => {
      const whole = { from: minuteAt(zone, day, from), to: minuteAt(zone, day, to), extra };
      present.push(whole);
      // Midnight itself belongs to the next day: what is done at 0:00 needs somebody there on that day.
      const stretch = to === "24:00" ? { ...whole, to: whole.to - 1 } : whole;
      windows.push(stretch);
      for (const handOver of HAND_OVERS) {
        if (handOvers.includes(handOver) && open(handOver)) staffed[handOver].push(stretch);
      }
    };
    for (const one of roster.weekly) {
      if (one.weekdays.includes(of) && !isAway(one.personId, day)) put(one.from, one.to, one.handOvers, -1);
    }
    for (const index of extraByDay.get(day) ?? []) {
      const one = roster.extra[index];
      if (one && !isAway(one.personId, day)) put(one.from, one.to, one.handOvers, index);
    }
    for (const one of roster.lookIns) {
      if (!one.weekdays.includes(of) || isAway(one.personId, day)) continue;
      for (const time of one.at) {
        const at = minuteAt(zone, day, time);
        present.push({ from: at, to: at, extra: -1 });
      }
    }
    if (keepers.length === 0 || keepers.some((person) => !isAway(person.id, day))) firingDays.add(day);
  }
  const byStart = (a: Stretch, b: Stretch) => a.from - b.from || a.to - b.to;
  for (const handOver of HAND_OVERS) staffed[handOver].sort(byStart);
  return {
    staffed,
    windows: windows.sort(byStart),
    present: present.sort(byStart),
    firingDays,
  };
}

/** Index of the first stretch that ends at or after `minute`; stretches rarely overlap, so a short step back is enough. */
function firstEnding(stretches: readonly Stretch[], minute: number): number {
  let low = 0;
  let high = stretches.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((stretches[middle] as Stretch).from < minute - 2880) low = middle + 1;
    else high = middle;
  }
  while (low < stretches.length && (stretches[low] as Stretch).to < minute) low++;
  return low;
}

/**
 * The staffed minute for `handOver` nearest to `wanted` inside [least, greatest], the earlier one when two are as
 * near, with the extra window it uses (-1 = none); null when nobody is there.
 */
export function nearestStaffed(
  attendance: Attendance,
  handOver: HandOver,
  least: number,
  wanted: number,
  greatest: number,
): { minute: number; extra: number } | null {
  const stretches = attendance.staffed[handOver];
  let best: { minute: number; extra: number } | null = null;
  let bestDistance = Infinity;
  for (let i = firstEnding(stretches, least); i < stretches.length; i++) {
    const stretch = stretches[i] as Stretch;
    if (stretch.from > greatest) break;
    const low = Math.max(stretch.from, least);
    const high = Math.min(stretch.to, greatest);
    if (low > high) continue;
    const minute = Math.min(high, Math.max(low, wanted));
    const distance = Math.abs(minute - wanted);
    // A weekly window is preferred to an extra one that costs money.
    if (
      distance < bestDistance ||
      (distance === bestDistance && best !== null && best.extra >= 0 && stretch.extra < 0)
    ) {
      best = { minute, extra: stretch.extra };
      bestDistance = distance;
    }
  }
  return best;
}

/**
 * Staffed minutes for `handOver` inside [least, greatest], the nearest to `wanted` first: of each stretch the nearest, both ends, and
 * every hour between.
 */
export function staffedMinutes(
  attendance: Attendance,
  handOver: HandOver,
  least: number,
  wanted: number,
  greatest: number,
): { minute: number; extra: number }[] {
  const nearest = nearestStaffed(attendance, handOver, least, wanted, greatest);
  if (!nearest) return [];
  const stretches = attendance.staffed[handOver];
  const found: { minute: number; extra: number }[] = [];
  for (let i = firstEnding(stretches, least); i < stretches.length; i++) {
    const { from, to, extra } = stretches[i] as Stretch;
    if (from > greatest) break;
    const low = Math.max(from, least);
    const high = Math.min(to, greatest);
    for (let minute = low; minute < high; minute += 60) found.push({ minute, extra });
    if (low <= high) found.push({ minute: high, extra });
  }
  const far = ({ minute }: { minute: number }) => Math.abs(minute - wanted);
  // A weekly window is preferred to an extra one that costs money.
  found.sort((a, b) => far(a) - far(b) || a.minute - b.minute || a.extra - b.extra);
  return [nearest, ...found];
}

/** Longest stretch of minutes without anybody between `from` and `to`, at both of which somebody is there. */
export function longestAbsence(attendance: Attendance, from: number, to: number): number {
  let longest = 0;
  let last = from;
  for (let i = firstEnding(attendance.present, from); i < attendance.present.length; i++) {
    const stretch = attendance.present[i] as Stretch;
    if (stretch.from >= to) break;
    if (stretch.from > last) longest = Math.max(longest, stretch.from - last);
    last = Math.max(last, stretch.to);
  }
  return Math.max(longest, to - last);
}

/** True when a turn at `minute` falls inside a weekly or extra window. */
export function inWindow(attendance: Attendance, minute: number): boolean {
  for (let i = firstEnding(attendance.windows, minute); i < attendance.windows.length; i++) {
    const stretch = attendance.windows[i] as Stretch;
    if (stretch.from > minute) return false;
    if (stretch.to >= minute) return true;
  }
  return false;
}
