import type { SeasonFile } from "../season/season.ts";
import type { Chance } from "./chance.ts";

/** The limit that a micro season is made to run into; chance may add others. */
export const MICRO_THEMES = [
  "plain",
  "bed",
  "grain",
  "asleep",
  "too old",
  "awaiting",
  "bins",
  "tanks",
  "malt store",
] as const;
export type MicroTheme = (typeof MICRO_THEMES)[number];

/** Days shown. The twelve planned weeks after them hold no brew and no legal steep-in. */
export const MICRO_DAYS = 42;

/** What the parts of one micro season must agree on. */
export interface MicroFrame {
  readonly luck: Chance;
  readonly theme: MicroTheme;
  /** Day number of as-of, a Monday. */
  readonly today: number;
  /** The date so many days after as-of. */
  readonly day: (after: number) => string;
  /** Greatest bed load in grams of clean barley. */
  readonly loadG: number;
  /** Days after as-of on which a steep may start. */
  readonly starts: readonly number[];
  readonly secondCrop: "barley" | "wheat";
  readonly firstLotG: number;
  readonly secondLotG: number;
  readonly secondLot: "in its bin" | "harvested" | "bought";
  /** Days after as-of on which the second lot comes, unless it is in its bin. */
  readonly arrives: number;
}

/** Some of the season file's parts. */
export type Part<K extends keyof SeasonFile> = Pick<SeasonFile, K>;

/** One row of one of the season file's lists. */
export type Row<K extends keyof SeasonFile> = NonNullable<SeasonFile[K]> extends (infer R)[] ? R : never;
