import { dayNumber, isoDate } from "../calendar.ts";
import type { Knobs, MadeFrame } from "./made-frame.ts";
import type { Part, Row } from "./micro-frame.ts";

const TURNAROUND_DAYS = 1;

/** Tanks with room for the largest beer, some of them closed for a while, some full of older beer. */
export function madeTanks(
  frame: MadeFrame,
  knobs: Knobs,
  beers: readonly Row<"beers">[],
  brews: readonly Row<"brews">[],
): Part<"tanks"> & { contents: NonNullable<Part<"opening">["opening"]["tanks"]> } {
  const { size, limit, luck, opened, day } = frame;
  const chances = luck("tanks");
  const mostL = Math.max(...beers.map((beer) => beer.volumeL));
  const micro = size === "micro";
  const peak = mostAtOnce(beers, brews);
  // Brews bunched in one week must not make a clash that nobody planted.
  const count = limit === "tanks" ? knobs.tanks : Math.max(knobs.tanks, peak + 1);
  const closable = !micro && limit !== "tanks" && count > 3;
  const tanks = Array.from({ length: count }, (_, at): Row<"tanks"> => ({
    id: `tank-${at + 1}`,
    name: `Tank ${at + 1}`,
    volumeL: Math.ceil(mostL * (at % 5 === 4 ? 1.3 : 1.05) / 50) * 50,
    turnaroundDays: TURNAROUND_DAYS,
    closures: closable && at === 0 && chances.oneIn(2)
      ? [{ from: `${day(90)}T00:00`, to: `${day(97)}T00:00`, reason: "New lining" }]
      : [],
  }));
  const full = Math.floor(tanks.length * (micro ? 0 : chances.int(1, 4)) / 10);
  // The last tanks are the full ones: the first are closed and spare in turn.
  const contents = tanks.slice(tanks.length - full).map((tank, at) => {
    const beer = beers[at % beers.length]!;
    return {
      tankId: tank.id,
      what: beer.name,
      volumeL: beer.volumeL,
      since: isoDate(opened - 3 - at % 7),
      freeOn: isoDate(opened + 4 + at % 9),
    };
  });
  return { tanks, contents };
}

/** Most brews that are in tanks on one day, each on the day it is wanted. */
function mostAtOnce(beers: readonly Row<"beers">[], brews: readonly Row<"brews">[]): number {
  const days = new Map(beers.map((beer) => [beer.id, beer.tankDays + TURNAROUND_DAYS]));
  const stays = brews.map((brew) => {
    const from = dayNumber(brew.on);
    return [from, from + days.get(brew.beerId)!] as const;
  });
  const ends = stays.map(([, to]) => to).sort((a, b) => a - b);
  const starts = stays.map(([from]) => from).sort((a, b) => a - b);
  let most = 0, ended = 0;
  for (const [begun, from] of starts.entries()) {
    while (ends[ended]! <= from) ended++;
    most = Math.max(most, begun + 1 - ended);
  }
  return most;
}
