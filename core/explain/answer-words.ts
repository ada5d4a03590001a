import type { Season } from "../season/season.ts";
import type { RunWorth } from "../year/run-worth.ts";
import { tonneWords } from "../year/words.ts";
import { type AcreValue, landUnit, type Range } from "./acre.ts";
import type { ExplainedAcre, ExplainedFailing } from "./explanation.ts";
import type { Failing } from "./failing.ts";
import type { Limit } from "./limits.ts";
import type { WeekValue } from "./run-values.ts";
import type { Worth } from "./worth.ts";
import { amountWords, beerWords, gainWords, limitNames, moneyWords } from "./words.ts";

/** What one more acre or hectare is worth: what a plan made anew brings, or why it brings nothing; and what the grain fetches as feed. */
export function acreWords(
  season: Season,
  { planting, priced, money, feed }: AcreValue,
  limits: readonly Limit[],
): ExplainedAcre {
  const { name } = landUnit(season);
  const other = limits.filter((one) => one !== "land" && one !== "grain");
  const nothing = other.length > 0
    ? `nothing while ${limitNames(other)} ${isMany(other) ? "are" : "is"} the limit`
    : "nothing measurable";
  const range = money === null || money.good < 100
    ? ""
    : `; ${rangeWords(season, money)} an ${name} in money`;
  return {
    plantingId: planting.id,
    what: `One more ${name} of ${planting.sowingSeason} ${planting.crop}`,
    words: priced === null ? nothing : gainWords(season, priced.gain) + article(range, name),
    feed: feed === null ? "" : article(`${rangeWords(season, feed)} an ${name}`, name),
  };
}

function isMany(limits: readonly Limit[]): boolean {
  return limits.length > 1 || limits[0] === "tanks" || limits[0] === "hands";
}

/** "an acre", "a hectare". */
function article(words: string, name: string): string {
  return name === "hectare" ? words.replace("an hectare", "a hectare") : words;
}

function rangeWords(season: Season, { bad, good }: Range): string {
  const from = amountWords(season, Math.max(0, bad)), to = amountWords(season, good);
  return from === to ? to : `${from.slice(0, from.lastIndexOf(" "))} to ${to}`;
}

function isNothing({ brews, promises, homeMaltG }: Worth): boolean {
  return brews === 0 && promises === 0 && Math.abs(homeMaltG) < 1000;
}

/** What is lost when a lot goes as feed. */
export function failingWords(season: Season, { lot, massG, gain, beers }: Failing): ExplainedFailing {
  const better = gain.moneyCents > 0;
  return {
    lotId: lot.id,
    letter: lot.letter,
    what: `${lot.name.startsWith(lot.letter) ? lot.name : `${lot.letter}, ${lot.name}`}, about ${
      tonneWords(massG)
    }`,
    words: isNothing(gain) ? "nothing is lost" : gainWords(season, gain),
    beers: beerWords(season, beers),
    money: Math.abs(gain.moneyCents) < 100
      ? ""
      : `${amountWords(season, gain.moneyCents)} ${better ? "better" : "dearer"}`,
  };
}

/** What one more run in a week is worth: what more is made and kept, and the money beside it. */
export function weekWords(season: Season, { day, gain, isNoise }: WeekValue): RunWorth {
  const { brews, promises, homeMaltG } = gain;
  const more = isNothing(gain) && gain.roomG < 1000 ? "" : gainWords(season, gain);
  const words = [more, moneyWords(season, { gain, isNoise })].filter((one) => one !== "").join(", ");
  return {
    day,
    brews,
    promises,
    homeMaltG,
    words: isNoise || words === "" ? "no measurable gain" : words,
    isNoise,
  };
}
