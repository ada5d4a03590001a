import { isoDate, weekday } from "../calendar.ts";
import type { MadeFrame } from "./made-frame.ts";
import type { Part, Row } from "./micro-frame.ts";

const WEEKDAYS = 5;
/** No made season holds more days than this. */
const HELD_DAYS = 5;

/** The calendar: brews spread over the whole season, of all classes, some on fixed days, a few of them pilots. */
export function madeBrews(frame: MadeFrame, beers: readonly Row<"beers">[]): Part<"brews" | "brewhouse"> {
  const { size, spec, luck, opened, today, horizon, day } = frame;
  const chances = luck("brews");
  const micro = size === "micro";
  const first = opened + (micro ? 6 : 1), last = horizon - (micro ? 3 : 6);
  const perDay = Math.max(1, Math.ceil(1.5 * spec.brews / (spec.weeks * WEEKDAYS)));
  const brewsOn = new Map<number, number>();
  const days = Array.from({ length: spec.brews }, (_, at) => {
    const evenly = first + Math.floor(spread(frame, last - first, (at + 0.5) / spec.brews));
    let on = workday(Math.max(first, evenly + chances.int(-2, 2)));
    while ((brewsOn.get(on) ?? 0) >= perDay) on = workday(on + 1);
    brewsOn.set(on, (brewsOn.get(on) ?? 0) + 1);
    return on;
  }).sort((a, b) => a - b);
  const closedFrom = Math.max(20, chances.int(60, 200));
  return {
    brews: days.map((on, at): Row<"brews"> => {
      const beer = at < beers.length ? beers[at]! : beers[weighted(chances.int(0, 99), beers.length)]!;
      const fixed = chances.oneIn(6);
      const earlier = fixed ? 0 : chances.int(0, micro ? 1 : 6),
        later = fixed ? 0 : chances.int(1, micro ? 2 : 7);
      const pilot = !micro && at > beers.length && chances.oneIn(25);
      const done = on < today;
      // Nothing is put into the held days any more, so a brew wanted in them may be a little late.
      const soon = on < today + HELD_DAYS ? workday(today + HELD_DAYS + 1) : 0;
      return {
        id: `brew-${at + 1}`,
        beerId: beer.id,
        on: isoDate(on),
        earliest: isoDate(done ? on : Math.max(on - earlier, Math.min(on, today))),
        latest: isoDate(done ? on : Math.min(Math.max(on + later, soon), horizon)),
        class: chances.pick([1, 1, 2, 2, 3]),
        ...(pilot ? { pilot: true, volumeL: 50 * chances.int(3, 6) } : {}),
      };
    }),
    brewhouse: {
      brewsPerDay: perDay + 1,
      brewWeekdays: [1, 2, 3, 4, 5],
      closed: !micro && chances.oneIn(3) ? closure(day, closedFrom) : [],
    },
  };
}

/**
 * Days from the first one to a share of the calendar: evenly, but where the malt store is to be the limit the calendar begins
 * quietly, because malt that is there at as-of may always stay.
 */
function spread({ size, limit, opened, today }: MadeFrame, days: number, share: number): number {
  if (limit !== "store") return days * share;
  const [quiet, weight] = size === "micro" ? [19, 0.001] : [today - opened + 58, 0.2];
  const done = share * (quiet * weight + days - quiet);
  return done < quiet * weight ? done / weight : quiet + done - quiet * weight;
}

/** The brewhouse is shut for two days of one week, so that windows of a few days still have a day left. */
function closure(day: MadeFrame["day"], from: number) {
  return [{ from: day(from), to: day(from + 1), reason: "Brewhouse cleaned" }];
}

/** The day itself, or the Monday after a weekend. */
function workday(on: number): number {
  return weekday(on) > WEEKDAYS ? on + 8 - weekday(on) : on;
}

/** Index of a beer: the first ones are brewed most. */
function weighted(percent: number, count: number): number {
  return Math.floor(count * (percent / 100) ** 1.6);
}
