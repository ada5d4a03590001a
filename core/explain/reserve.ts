import type { Year } from "../year/year.ts";

/** How far a malt lies above the stock that is kept for safety. Grams; negative is below. */
export interface MaltReserve {
  readonly maltId: string;
  readonly name: string;
  readonly floorG: number;
  /** Ready malt less the floor on the day on which it is least, and that day. */
  readonly leastG: number;
  readonly leastDay: number;
  /** The least of each week ahead, from as-of on. */
  readonly weeks: readonly { readonly firstDay: number; readonly leastG: number }[];
}

const WEEK = 7;

/** The reserve of each malt that has a floor, from as-of to the last day shown. */
export function reservesOf({ malt, asOf, firstDay, lastDay }: Year): MaltReserve[] {
  const from = Math.max(firstDay, Math.floor(asOf));
  return malt.rows.filter((row) => row.maltId !== null && row.floorG > 0).map((row) => {
    const aboveOn = (day: number) =>
      (row.readyHomeG[day - firstDay] ?? 0) + (row.readyBoughtG[day - firstDay] ?? 0) - row.floorG;
    const days = Array.from({ length: lastDay - from + 1 }, (_, at) => from + at);
    const leastDay = days.reduce((least, day) => aboveOn(day) < aboveOn(least) ? day : least, from);
    return {
      maltId: row.maltId!,
      name: row.name,
      floorG: row.floorG,
      leastG: aboveOn(leastDay),
      leastDay,
      weeks: days.filter((_, at) => at % WEEK === 0).map((first) => ({
        firstDay: first,
        leastG: Math.min(...days.filter((day) => day >= first && day < first + WEEK).map(aboveOn)),
      })),
    };
  });
}
