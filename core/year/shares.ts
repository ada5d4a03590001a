import { yearOf } from "../calendar.ts";
import type { BrewMark } from "./brews-band.ts";
import { homeShareOver } from "./sentence.ts";
import type { Year } from "./year.ts";

/** Own-farm weight out of the weight of malt and grain, water and hops left out, of one beer over one calendar year. */
export interface BeerShare {
  readonly beerId: string;
  readonly name: string;
  readonly brews: number;
  /** Over all its brews of the year, 0 to 1. */
  readonly share: number;
  /** Brew day on which the year so far falls below the share asked and stays there; null where it does not. */
  readonly failsOn: number | null;
}

/** The calendar years of which brews are shown, the one that most brews lie in first. */
export function shareYears({ brews }: Year): number[] {
  const counts = new Map<number, number>();
  for (const brew of brews.filter(isCounted)) {
    const year = yearOf(brew.day);
    counts.set(year, (counts.get(year) ?? 0) + 1);
  }
  return [...counts].toSorted((a, b) => b[1] - a[1]).map(([year]) => year);
}

/** Each beer's share over a calendar year, the least first; `asked` is the share it is held against, 0 to 1. */
export function beerShares({ brews }: Year, calendarYear: number, asked: number | null): BeerShare[] {
  const ofYear = Map.groupBy(
    brews.filter((one) => isCounted(one) && yearOf(one.day) === calendarYear),
    (one) => one.beerId,
  );
  return [...ofYear].map(([beerId, made]) => {
    const inOrder = made.toSorted((a, b) => a.day - b.day);
    return {
      beerId,
      name: inOrder[0]!.beerName,
      brews: inOrder.length,
      share: homeShareOver(inOrder) ?? 0,
      failsOn: asked === null ? null : failsOn(inOrder, asked),
    };
  }).sort((a, b) => a.share - b.share);
}

function isCounted({ tail, gristG }: BrewMark): boolean {
  return !tail && gristG > 0;
}

/** The first day of the last stretch in which the year so far lies below the share; null where the year ends at or above it. */
function failsOn(inOrder: readonly BrewMark[], asked: number): number | null {
  let since: number | null = null;
  inOrder.forEach((brew, at) => {
    const share = homeShareOver(inOrder.slice(0, at + 1)) ?? 0;
    if (share >= asked - 1e-9) since = null;
    else since ??= brew.day;
  });
  return since;
}
