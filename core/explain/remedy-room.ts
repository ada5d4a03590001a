import { STAGES } from "../season/malthouse.ts";
import type { Season } from "../season/season.ts";
import { countWords, upperFirst } from "../year/words.ts";
import { withBagPlaces, withBiggerLoads, withBin } from "./ease.ts";
import { vesselsOf, withPlaces, withTanks, withVessels } from "./relax.ts";
import { remedy, SIZES, type Steps } from "./remedy.ts";

/** A load by so much larger. */
const BIGGER = 0.25;

const LARGER = 0.5;

/** Bag places for grain are added by the pallet's worth. */
const BAG_SIZES = [2, 4, 8] as const;

/** More vessels of one stage. */
export function vessels(season: Season, stage: (typeof STAGES)[number]): Steps {
  if (vesselsOf(season, stage).length === 0) return [];
  return [1, 2].map((count) =>
    remedy({
      id: `more-${stage}-${count}`,
      limits: [stage],
      words: count === 1 ? `Another ${stage}` : `Two more ${stage}s`,
      season: withVessels(season, stage, { count, loads: 1 }),
      hazards: [stage],
    })
  );
}

/** Larger loads in all vessels. */
export function bigger(season: Season): Steps {
  if (season.vessels.length === 0) return [];
  return [remedy({
    id: "bigger-loads",
    limits: ["steep", "bed", "kiln"],
    words: "Steep, bed and kiln that take a quarter more",
    season: withBiggerLoads(season, BIGGER),
    hazards: ["bed", "kiln"],
  })];
}

/** Larger vessels of one stage; where they are the same for every stage, that is what `bigger` tells. */
export function larger(season: Season, stage: (typeof STAGES)[number]): Steps {
  const own = vesselsOf(season, stage);
  if (own.length === 0 || own.some((vessel) => vessel.stages.length > 1)) return [];
  return [remedy({
    id: `larger-${stage}`,
    limits: [stage],
    words: `${
      own.length === 1 ? `A ${stage} that takes` : `${upperFirst(stage)}s that take`
    } half as much again`,
    season: withBiggerLoads(season, LARGER, [stage]),
    hazards: [stage],
  })];
}

/** More room for malt. */
export function malthousePlaces(season: Season): Steps {
  return SIZES.map((size) =>
    remedy({
      id: `malt-places-${size}`,
      limits: ["store"],
      words: `${countWords(size, "more place")} in the malt store`,
      season: withPlaces(season, size),
      hazards: ["malt store"],
    })
  );
}

/** Another bin. */
export function bins(season: Season): Steps {
  const eased = withBin(season);
  return eased === null ? [] : [remedy({
    id: "more-bin",
    limits: ["bins"],
    words: "Another bin, like the largest",
    season: eased,
    hazards: ["bin fill"],
  })];
}

/** More bags for grain. */
export function bagPlaces(season: Season): Steps {
  return BAG_SIZES.flatMap((size) => {
    const eased = withBagPlaces(season, size);
    return eased === null ? [] : [remedy({
      id: `bag-places-${size}`,
      limits: ["bins"],
      words: `${size} more bag places for grain`,
      season: eased,
      hazards: ["move"],
    })];
  });
}

/** More fermenters. */
export function tanks(season: Season): Steps {
  if (season.tanks.length === 0) return [];
  return [1, 2].map((count) =>
    remedy({
      id: `more-tank-${count}`,
      limits: ["tanks"],
      words: count === 1 ? "Another fermenter" : "Two more fermenters",
      season: withTanks(season, count),
      hazards: ["cellar"],
    })
  );
}
