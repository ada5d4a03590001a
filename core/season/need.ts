import { dayNumber } from "../calendar.ts";
import { extractAsIs, extractKg } from "../physics/extract.ts";
import type { Beer, Brew, Ingredient } from "./brewing.ts";
import type { MaltType } from "./malthouse.ts";
import type { Season } from "./season.ts";

const G_PER_KG = 1000;
const DAYS_PER_WEEK = 7;

/** What one grist line of one brew asks for. */
export interface LineNeed {
  readonly lineId: string;
  readonly ingredient: Ingredient;
  /** Grams of coarse-grind extract that must go into the mash on this line, brewhouse losses included. */
  readonly extractG: number;
  /** Grams of the ingredient as is, were it to have its book extract. */
  readonly bookMassG: number;
}

/** Book extract of an ingredient as it lies in the bag, a fraction; 0 for a malt the season does not know. */
export function bookExtractAsIs(season: Season, ingredient: Ingredient): number {
  if (ingredient.kind === "grain") return ingredient.extractAsIs;
  const malt = season.maltTypes.find((one) => one.id === ingredient.maltId);
  return malt === undefined ? 0 : extractAsIs(malt.extractCoarseDb, malt.maltMoistureWb);
}

/**
 * What each grist line of a brew asks for, unrounded: volume x density x strength / brewhouse efficiency, split over
 * the lines by share x book extract. The brew may be one of the tail. Empty when its beer is unknown.
 */
export function gristNeed(season: Season, brew: Brew): LineNeed[] {
  const beer = season.beers.find((one) => one.id === brew.beerId);
  if (beer === undefined) return [];
  const lines = beer.grist.map((line) => ({ ...line, extract: bookExtractAsIs(season, line.ingredient) }));
  const perGristG = lines.reduce((sum, line) => sum + line.share * line.extract, 0);
  if (perGristG === 0) return [];
  const gristG = mashExtractG(beer, brew) / perGristG;
  return lines.map((line) => ({
    lineId: line.id,
    ingredient: line.ingredient,
    extractG: gristG * line.share * line.extract,
    bookMassG: gristG * line.share,
  }));
}

function mashExtractG(beer: Beer, brew: Brew): number {
  const volumeL = brew.volumeL ?? beer.volumeL;
  return extractKg(volumeL, beer.gravityP) * G_PER_KG / beer.brewhouseEfficiency;
}

/**
 * Grams of ready malt the farm keeps for safety: its own figure, else one mean week of the calendar's book need, from
 * the malt's first brew to its last. A malt that is not made from grain has a floor only if the farm states one.
 */
export function reserveFloorG(season: Season, malt: MaltType): number {
  if (malt.reserveFloorG !== undefined) return malt.reserveFloorG;
  if (malt.made.from !== "grain") return 0;
  let needG = 0, first = Infinity, last = -Infinity;
  for (const brew of season.brews) {
    const brewG = gristNeed(season, brew)
      .filter((line) => line.ingredient.kind === "malt" && line.ingredient.maltId === malt.id)
      .reduce((sum, line) => sum + line.bookMassG, 0);
    if (brewG === 0) continue;
    needG += brewG;
    first = Math.min(first, dayNumber(brew.on));
    last = Math.max(last, dayNumber(brew.on));
  }
  return needG === 0 ? 0 : needG / (last - first + 1) * DAYS_PER_WEEK;
}
