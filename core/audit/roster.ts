/** Who is there when: the farm's windows and look-ins of one day, people away left out. */
import { dayNumber, weekday } from "../calendar.ts";
import type { HandOver } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { instantOf } from "../zone.ts";

const DAY_MINUTES = 1440;

/** A stretch of one day with somebody there, in minutes of the clock, both ends included. */
export interface Window {
  readonly from: number;
  readonly to: number;
  readonly handOvers: readonly HandOver[];
  /** Place in `roster.extra`, or null for a weekly window. */
  readonly extra: number | null;
  readonly costCents: number;
}

/** The roster, asked by day number. */
export interface RosterBook {
  windowsOn(day: number): readonly Window[];
  /** Minutes of the clock at which somebody looks in. */
  lookInsOn(day: number): readonly number[];
  closed(day: number, handOver: HandOver): boolean;
  /** Windows in which a hand-over may happen at a minute of a day. */
  open(day: number, minute: number, handOver: HandOver): readonly Window[];
  away(personId: string, day: number): boolean;
}

/** Minutes since midnight of `HH:MM`; 24:00 is 1440. */
function minutes(time: string): number {
  return Number(time.slice(0, 2)) * 60 + Number(time.slice(3));
}

/** The epoch minute of a minute of the clock; 1440 is the next midnight. */
export function momentOf(zone: string, day: number, minute: number): number {
  return minute >= DAY_MINUTES ? instantOf(zone, day + 1, 0) : instantOf(zone, day, minute);
}

/** Reads the roster once; each day is worked out when it is first asked for. */
export function rosterBook(season: Season): RosterBook {
  const { roster } = season;
  const people = new Map(season.people.map((person) => [
    person.id,
    person.away.map((stretch) => ({ from: dayNumber(stretch.from), to: dayNumber(stretch.to) })),
  ]));
  const away = (personId: string, day: number) =>
    people.get(personId)?.some((stretch) => stretch.from <= day && day <= stretch.to) === true;
  const there = (personId: string | undefined, day: number) => personId === undefined || !away(personId, day);
  const weekly = roster.weekly.map((entry) => ({
    entry,
    window: {
      from: minutes(entry.from),
      to: minutes(entry.to),
      handOvers: entry.handOvers,
      extra: null,
      costCents: 0,
    },
  }));
  const extra = roster.extra.map((entry, place) => ({
    day: dayNumber(entry.on),
    personId: entry.personId,
    window: {
      from: minutes(entry.from),
      to: minutes(entry.to),
      handOvers: entry.handOvers,
      extra: place,
      costCents: entry.costCents,
    },
  }));
  const closures = roster.closed.map((entry) => ({
    from: dayNumber(entry.from),
    to: dayNumber(entry.to),
    handOvers: entry.handOvers,
  }));
  const lookIns = roster.lookIns.map((entry) => ({ entry, at: entry.at.map(minutes) }));
  const known = new Map<number, readonly Window[]>();

  const windowsOn = (day: number) => {
    let windows = known.get(day);
    if (windows === undefined) {
      const today = weekday(day);
      windows = [
        ...weekly.filter(({ entry }) => entry.weekdays.includes(today) && there(entry.personId, day)),
        ...extra.filter((entry) => entry.day === day && there(entry.personId, day)),
      ].map(({ window }) => window).filter((window) => window.from <= window.to);
      known.set(day, windows);
    }
    return windows;
  };
  const closed = (day: number, handOver: HandOver) =>
    closures.some((entry) => entry.from <= day && day <= entry.to && entry.handOvers.includes(handOver));
  return {
    windowsOn,
    closed,
    away,
    lookInsOn: (day) =>
      lookIns.filter(({ entry }) => entry.weekdays.includes(weekday(day)) && there(entry.personId, day))
        .flatMap(({ at }) => at),
    open: (day, minute, handOver) =>
      closed(day, handOver)
        ? []
        : windowsOn(day).filter((window) =>
          window.from <= minute && minute <= window.to && window.handOvers.includes(handOver)
        ),
  };
}
