import type { StoreEvent } from "./stores-band.ts";
import type { Year } from "./year.ts";
import { homeShareOver } from "./sentence.ts";

/** How one beer fares from as-of to the last day shown. */
export interface BeerCoverage {
  readonly beerId: string;
  readonly name: string;
  /** Brews asked for and not recorded yet; of these, brews the plan makes. */
  readonly asked: number;
  readonly made: number;
  /** Home-grown weight out of grist weight of the brews made; null when none is. */
  readonly homeShare: number | null;
  readonly promise: number;
  readonly promisesHeld: number;
  /** Day of the first brew that is not made, or that lacks home malt; null when there is none. */
  readonly coveredUntil: number | null;
}

/** A load or move still to come, all its items together. */
export interface Departure {
  readonly refId: string;
  readonly day: number;
  readonly items: readonly StoreEvent[];
  readonly fromNames: readonly string[];
  readonly toName: string | null;
  /** True when another lot needs the room. */
  readonly mustLeave: boolean;
}

/** Each beer's coverage, in the order of the calendar's first brews. */
export function beerCoverage(year: Year): BeerCoverage[] {
  const lacking = new Set(year.malt.rows.flatMap((row) => row.lacks.flatMap((one) => one.brewIds)));
  const ahead = year.brews.filter((one) =>
    !one.tail && one.standing !== "done" && one.standing !== "under way" && one.day <= year.lastDay
  );
  const beers = new Map<string, typeof ahead>();
  for (const brew of ahead) beers.set(brew.beerId, [...beers.get(brew.beerId) ?? [], brew]);
  return [...beers].map(([beerId, brews]) => {
    const made = brews.filter((one) => one.gristG > 0);
    const short = brews.find((one) => one.standing === "unbrewed" || lacking.has(one.id));
    return {
      beerId,
      name: brews[0]!.beerName,
      asked: brews.length,
      made: made.length,
      homeShare: homeShareOver(made),
      promise: brews[0]!.promise,
      promisesHeld: made.filter((one) => one.promiseHeld).length,
      coveredUntil: short?.day ?? null,
    };
  });
}

/** Feed loads or moves still to come, by day. */
export function departuresAhead(year: Year, kind: "feed" | "moved out"): Departure[] {
  const byRef = new Map<string, { items: StoreEvent[]; from: Set<string> }>();
  for (const row of year.stores) {
    for (const event of row.departures) {
      if (event.kind !== kind || event.standing === "done" || event.day < Math.floor(year.asOf)) continue;
      const one = byRef.get(event.refId) ?? { items: [], from: new Set<string>() };
      one.items.push(event);
      one.from.add(row.name);
      byRef.set(event.refId, one);
    }
  }
  const must = new Set(year.stores.flatMap((row) => row.mustLeave.map((one) => one.refId)));
  return [...byRef].map(([refId, { items, from }]) => ({
    refId,
    day: items[0]!.day,
    items,
    fromNames: [...from],
    toName: year.stores.find((row) => row.id === items[0]!.otherStoreId)?.name ?? null,
    mustLeave: must.has(refId),
  })).sort((a, b) => a.day - b.day);
}
