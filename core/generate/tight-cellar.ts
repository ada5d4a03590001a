import { dateOf, dayNumber } from "../calendar.ts";
import { bookAt } from "../book/book.ts";
import type { Season } from "../season/season.ts";
import { allBrewsToPlan } from "../season/tail.ts";
import type { HomeNeed } from "./tight-need.ts";

/** Windows shorter than this say more about single brews than about the cellar. */
const SHORTEST_WINDOW_DAYS = 28;
const WINDOW_STEP_DAYS = 7;

/**
 * Malt that must lie in store by what its places hold: on each day, all home-made malt brewed before malt stripped on the
 * next day could have rested.
 */
export function storeTightness(season: Season, needs: readonly HomeNeed[]): number {
  const today = dayNumber(dateOf(season.asOf));
  const { placeG } = season.maltStore;
  // More places than there are may be taken as long as no more are taken than at as-of.
  const taken = bookAt(season, season.asOf).batches.reduce(
    (sum, batch) => batch.arrivesDay <= today ? sum + Math.ceil(batch.massG / placeG) : sum,
    0,
  );
  const roomG = Math.max(season.maltStore.places, taken) * placeG;
  const wanted = needs.flatMap((need) =>
    need.net.map(({ day, massG }) => ({ since: day - need.malt.restDays, day, massG }))
  );
  const days = new Set(wanted.map((one) => one.since));
  let most = 0;
  for (const day of days) {
    const heldG = wanted.reduce((sum, one) => sum + (one.since <= day && day < one.day ? one.massG : 0), 0);
    most = Math.max(most, heldG);
  }
  return most === 0 ? 0 : most / roomG;
}

/** Tank-days that the brews of a window ask for by tank-days there are, in the tightest window of four weeks or more. */
export function tanksTightness(season: Season): number {
  const today = dayNumber(dateOf(season.asOf)), horizon = dayNumber(season.horizonEnd);
  const beers = new Map(season.beers.map((beer) => [beer.id, beer]));
  const turnaround = Math.min(...season.tanks.map((tank) => tank.turnaroundDays));
  const brews = allBrewsToPlan(season, season.asOf).flatMap((brew) => {
    const from = dayNumber(brew.earliest), to = dayNumber(brew.latest);
    return to > horizon ? [] : [{ from, to, days: beers.get(brew.beerId)!.tankDays + turnaround }];
  });
  const longest = Math.max(0, ...brews.map((brew) => brew.days));
  const { tankFree } = bookAt(season, season.asOf);
  const free = season.tanks.map((tank) => tankFree.get(tank.id) ?? today);
  let tightest = 0;
  for (let from = today; from < horizon; from += WINDOW_STEP_DAYS) {
    const inside = brews.filter((brew) => brew.from >= from).sort((a, b) => a.to - b.to);
    let asked = 0;
    for (const brew of inside) {
      asked += brew.days;
      if (brew.to - from < SHORTEST_WINDOW_DAYS) continue;
      const there = free.reduce((sum, day) => sum + Math.max(0, brew.to + longest - Math.max(day, from)), 0);
      tightest = Math.max(tightest, asked / there);
    }
  }
  return tightest;
}
