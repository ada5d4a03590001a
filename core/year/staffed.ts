import { dayNumber, minuteOfTime, weekday } from "../calendar.ts";
import type { HandOver } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { instantOf } from "../zone.ts";
import { gapsBetween, joined, type Spans } from "./spans.ts";

/** Where hand-overs may fall, and where nobody is there to look in, in minutes of the epoch. */
export interface Staffed {
  readonly handOvers: Readonly<Record<HandOver, Spans>>;
  /** Times at which somebody is about: hand-over windows and look-ins. */
  readonly attendance: Spans;
  /** Days on which a maltster is not away (anyone, if nobody is a maltster). */
  readonly maltsterDays: ReadonlySet<number>;
}

/** Minute of the epoch of a time of day; `24:00` is the next day's midnight. */
function minuteAt(zone: string, day: number, time: string): number {
  const minute = minuteOfTime(time);
  return minute === 1440 ? instantOf(zone, day + 1, 0) : instantOf(zone, day, minute);
}

/** Reads the roster for the days `from` to `to`. */
export function staffedOf(season: Season, from: number, to: number): Staffed {
  const { roster, people, zone } = season;
  const away = new Map(people.map((one) => [
    one.id,
    one.away.map((leave) => [dayNumber(leave.from), dayNumber(leave.to)] as const),
  ]));
  const isAway = (personId: string | undefined, day: number) =>
    personId !== undefined && (away.get(personId) ?? []).some(([start, end]) => start <= day && day <= end);
  const closed = roster.closed.map((one) => ({ ...one, start: dayNumber(one.from), end: dayNumber(one.to) }));

  const windows = { steepIn: [], castToBed: [], kilnLoading: [], strip: [] } as Record<
    HandOver,
    [number, number][]
  >;
  const attendance: [number, number][] = [];
  const maltsters = people.filter((one) => one.roles.includes("maltster"));
  const lookers = maltsters.length > 0 ? maltsters : people;
  const maltsterDays = new Set<number>();

  for (let day = from; day <= to; day++) {
    if (people.length === 0 || lookers.some((one) => !isAway(one.id, day))) maltsterDays.add(day);
    const shut = closed.filter((one) => one.start <= day && day <= one.end).flatMap((one) => one.handOvers);
    const today = [
      ...roster.weekly.filter((one) => one.weekdays.includes(weekday(day))),
      ...roster.extra.filter((one) => dayNumber(one.on) === day),
    ].filter((one) => !isAway(one.personId, day));
    for (const window of today) {
      const span: [number, number] = [minuteAt(zone, day, window.from), minuteAt(zone, day, window.to)];
      attendance.push(span);
      for (const handOver of window.handOvers) if (!shut.includes(handOver)) windows[handOver].push(span);
    }
    for (const visit of roster.lookIns) {
      if (!visit.weekdays.includes(weekday(day)) || isAway(visit.personId, day)) continue;
      for (const time of visit.at) attendance.push([minuteAt(zone, day, time), minuteAt(zone, day, time)]);
    }
  }
  return {
    handOvers: {
      steepIn: joined(windows.steepIn),
      castToBed: joined(windows.castToBed),
      kilnLoading: joined(windows.kilnLoading),
      strip: joined(windows.strip),
    },
    attendance: joined(attendance),
    maltsterDays,
  };
}

/**
 * Stretches without anybody that are longer than a machine-turned bed may be left. Hand-overs are attendance, so no run
 * can begin or end its time in the bed inside one, and none can lie across one.
 */
export function longAbsences(staffed: Staffed, from: number, to: number, mostHours: number): Spans {
  return gapsBetween(staffed.attendance, from, to).filter(([start, end]) => end - start > mostHours * 60);
}
