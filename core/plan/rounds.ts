import type { Aim } from "../guide/weekly.ts";

/** Single starts differ by a few per cent, so the search starts several times and keeps the best. */
export const STARTS = 4;
/** Starts after which the weekly model's do better, where all is made and kept. */
export const ENOUGH = 2;
/** Starts in which runs may count on grain that stores do not yield, unless the malt store is crowded: there nothing mends it. */
export const LENIENT = new Set([1, 3]);
/** Most starts from the weekly model's runs where all is made and kept: each ends a few per cent dearer or cheaper. */
export const GUIDES = 8;
/** Most starts that aim higher, and how high they aim, in turn. */
export const MOST_HIGHER = 12;
export const HIGHER: readonly Aim["at"][] = ["one more", "one more alone", "most"];
/** Starts from the weekly model that may in a row come to nothing worth while; more of them in a longer search, and where few demands make each of them quick. */
export const PATIENCE = { usual: 2, long: 3 } as const;
export const LONG = 30_000;
export const FEW_DEMANDS = 80;
/** Changes of one start below which a search is to be quick: it starts once from the weekly model, and chooses only for the best plan. */
export const THOROUGH = 10_000;
/** First temperature of a search from the weekly model's runs, as a share: at the usual one they would be lost again. Half the changes do for it. */
export const GUIDED_HEAT = 0.05;
/** Most times that runs are exchanged. */
export const EXCHANGES = 6;
/** Where the malt store is crowded: starts from the weekly model, and the first temperature at which the best plan is searched further. */
export const CROWDED_GUIDES = 3;
export const CROWDED_HEAT = 0.2;
/** Shares of the malt store that weight may fill while orders are chosen with the weights, in turn. */
export const ORDER_ROOMS = [1, 0.85, 0.7] as const;
/** Share of what orders cost that choosing them anew is hoped to spare. */
export const MOST_SPARED = 0.25;
