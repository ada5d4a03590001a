import { dayNumber, isoDate, weekday, yearOf } from "../calendar.ts";
import type { Crop } from "../season/quantity.ts";
import { type Chance, chance } from "./chance.ts";
import { type PlantedLimit, type SeasonSize, SIZE_SPECS, type SizeSpec } from "./sizes.ts";

/** What is turned until the planted limit binds and nothing else does. */
export interface Knobs {
  /** Greatest load of a bed, grams of clean barley. */
  bedG: number;
  /** Greatest loads of steep and kiln as a share of the bed's. */
  steepShare: number;
  kilnShare: number;
  tanks: number;
  /** Grain harvested as a share of what is needed. */
  grain: number;
  /** Room of the stores for grain to come as a share of what comes. */
  bins: number;
  /** Places of the malt store. */
  places: number;
  /** Days that every beer stays in its tank beyond its usual time. */
  slowDays: number;
}

/** What the parts of one made season must agree on. */
export interface MadeFrame {
  readonly size: SeasonSize;
  readonly spec: SizeSpec;
  readonly seed: number;
  readonly limit: PlantedLimit;
  /** A part's own choices: they stay the same whatever other parts, or the knobs, do. */
  readonly luck: (part: string) => Chance;
  /** Day number of the opening position. */
  readonly opened: number;
  /** Day number of as-of. */
  readonly today: number;
  readonly horizon: number;
  /** The date so many days after as-of. */
  readonly day: (after: number) => string;
  /** Day number on which a crop of a year is likely cut, and days from then to its late waking. */
  readonly harvestDay: (crop: Crop, year: number) => number;
  readonly restDays: (crop: Crop) => number;
}

/** Middle days of harvest and days of rest to a late waking: 3 to 8 weeks, from memory; cool northern summers. */
const HARVEST: Readonly<Record<Crop, readonly [monthDay: string, restDays: number]>> = {
  barley: ["08-08", 48],
  wheat: ["08-02", 38],
  rye: ["07-27", 30],
  oats: ["08-14", 34],
};

const FIRST_DAY = "2026-01-01";
const DAYS_OF_STARTS = 730;
/** Unmalted grain for the mash and its extract as is: the trade's ranges, common practice, no source. */
const RAW = [
  { crop: "oats", extractAsIs: 0.56 },
  { crop: "wheat", extractAsIs: 0.66 },
  { crop: "barley", extractAsIs: 0.62 },
  { crop: "rye", extractAsIs: 0.64 },
] as const;

/** The grain a season's beers take unmalted, and the one they may take instead. */
export function rawGrains({ luck }: Pick<MadeFrame, "luck">) {
  const at = luck("raw grain").int(0, RAW.length - 1);
  return { raw: RAW[at]!, instead: RAW[(at + 1) % RAW.length]! };
}

/** Multipliers that spread part and seed over the whole range of a 32-bit seed. */
const SPREAD = [0x9e3779b1, 0x85ebca6b] as const;

/** The frame of a season: its days and its sources of chance. */
export function frameOf(size: SeasonSize, seed: number, limit: PlantedLimit): MadeFrame {
  const spec = SIZE_SPECS[size];
  const luck = (part: string) => chance(partSeed(seed, `${size} ${part}`));
  const days = luck("days");
  const micro = size === "micro";
  const late = new Map<Crop, number>(
    (["barley", "wheat", "rye", "oats"] as const).map((crop) => [crop, days.int(-9, 9)]),
  );
  // Six weeks see a harvest only if it comes at once and wakes at once.
  const restDays = (crop: Crop) => micro ? 4 : HARVEST[crop][1] + late.get(crop)!;
  const harvestDay = (crop: Crop, year: number) =>
    dayNumber(`${year}-${HARVEST[crop][0]}`) + late.get(crop)! + (micro ? 0 : year % 3);
  let today = dayNumber(FIRST_DAY) + days.int(0, DAYS_OF_STARTS);
  const before = micro ? days.int(3, 5) : days.int(12, 26);
  // Only grain that is still to come can find no bin.
  if (limit === "bins") today = harvestDay("barley", yearOf(today)) - before;
  // In six weeks the first Monday must not come too late for everything.
  if (limit === "hands" && micro) today += (8 - weekday(today)) % 7;
  const history = days.pick([0, 20, 34, 50]);
  const opened = micro ? today : today - history;
  return {
    size,
    spec,
    seed,
    limit,
    luck,
    opened,
    today,
    horizon: opened + 7 * spec.weeks,
    day: (after) => isoDate(today + after),
    harvestDay,
    restDays,
  };
}

function partSeed(seed: number, part: string): number {
  let mixed = Math.imul(seed + 1, SPREAD[0]);
  for (let at = 0; at < part.length; at++) {
    mixed = Math.imul(mixed ^ part.charCodeAt(at), SPREAD[1]);
    mixed ^= mixed >>> 13;
  }
  return mixed;
}
