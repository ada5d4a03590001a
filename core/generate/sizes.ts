/** Sizes of made seasons, the smallest first. */
export const SEASON_SIZES = ["micro", "small", "typical", "large", "coop"] as const;
export type SeasonSize = (typeof SEASON_SIZES)[number];

/** What a season can be made to run short of. */
export const LIMITS = ["bed", "kiln", "steep", "tanks", "grain", "bins", "store", "hands"] as const;
export type Limit = (typeof LIMITS)[number];
/** One limit that binds, or none. */
export type PlantedLimit = Limit | "none";

/** How much of everything a season of a size has. */
export interface SizeSpec {
  /** Weeks from the opening position to the last day shown. */
  readonly weeks: number;
  readonly brews: number;
  readonly lots: number;
  /** Malts, bought ones included. */
  readonly malts: number;
  readonly beds: number;
  readonly beers: number;
  /** Usual volume of a brew in hectolitres, from least to greatest. */
  readonly brewHl: readonly [least: number, greatest: number];
  /** True when each bed has a steep and a kiln of its own and grain never changes over between them. */
  readonly lines: boolean;
}

/** Numbers of things are the ones agreed on for made seasons; volumes are our choice, no source. */
export const SIZE_SPECS: Readonly<Record<SeasonSize, SizeSpec>> = {
  micro: { weeks: 6, brews: 4, lots: 2, malts: 2, beds: 1, beers: 2, brewHl: [10, 15], lines: false },
  small: { weeks: 40, brews: 40, lots: 5, malts: 3, beds: 1, beers: 4, brewHl: [8, 16], lines: false },
  typical: { weeks: 70, brews: 120, lots: 8, malts: 5, beds: 2, beers: 7, brewHl: [12, 24], lines: false },
  large: { weeks: 104, brews: 400, lots: 20, malts: 10, beds: 3, beers: 12, brewHl: [14, 24], lines: true },
  coop: { weeks: 90, brews: 2000, lots: 60, malts: 12, beds: 8, beers: 20, brewHl: [10, 20], lines: true },
};
