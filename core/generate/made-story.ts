import { isoDate } from "../calendar.ts";
import { capacityKg, levelVolumeL } from "../physics/bin-capacity.ts";
import type { Batch, Bookings, Records } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import type { Chance } from "./chance.ts";
import type { MadeFrame } from "./made-frame.ts";

/**
 * What happened between the opening position and as-of, told backwards: the season holds what there is at as-of, and
 * whatever a record takes away is added to what lay there at the opening.
 */
export interface Story {
  readonly season: Season;
  readonly luck: Chance;
  readonly opened: number;
  readonly today: number;
  /** Grain and malt at the opening; they grow as the story is told. */
  readonly grain: { lotId: string; storeId: string; massG: number }[];
  readonly malt: Batch[];
  readonly records: Records;
  readonly bookings: Bookings;
}

/** A story in which nothing has happened yet. */
export function emptyStory(frame: MadeFrame, season: Season): Story {
  return {
    season,
    luck: frame.luck("story"),
    opened: frame.opened,
    today: frame.today,
    grain: season.opening.grain.map((lay) => ({ ...lay })),
    malt: season.opening.malt.map((batch) => ({ ...batch })),
    records: {
      runs: [],
      brews: [],
      orders: [],
      feedLoads: [],
      moves: [],
      mixes: [],
      fills: [],
      deliveries: [],
      adjustments: [],
    },
    bookings: { runs: [], brews: [], orders: [], feedLoads: [], moves: [] },
  };
}

/** A day of the story's past, as a date; `share` 0 is the opening, 1 as-of. */
export function pastDay({ opened, today }: Story, share: number): string {
  return isoDate(opened + 1 + Math.floor((today - opened - 2) * share));
}

/** Lots in store that were there, awake and tested at the opening already. */
export function oldLots({ season, opened, grain }: Story): Season["lots"] {
  const start = isoDate(opened);
  return season.lots.filter((lot) =>
    lot.use === "malting" && lot.owner === "farm" && lot.formedOn <= start && lot.wakesOn === undefined &&
    lot.analyses.some((one) => (one.germinativeEnergy ?? 0) >= 0.95 && (one.resultOn ?? "9") <= start) &&
    grain.some((lay) => lay.lotId === lot.id)
  );
}

/** Adds to what lay in the lot's first store at the opening, and names the store; null where there was no room. */
export function layMore(story: Story, lotId: string, massG: number): string | null {
  const lay = story.grain.find((one) => one.lotId === lotId);
  if (lay === undefined) return null;
  lay.massG += massG;
  if (fits(story, lay.storeId)) return lay.storeId;
  lay.massG -= massG;
  return null;
}

function fits({ season, grain }: Story, storeId: string): boolean {
  const store = season.stores.find((one) => one.id === storeId)!;
  const volumeL = store.kind === "bags"
    ? store.placeVolumeL
    : store.shape.kind === "volume"
    ? store.shape.volumeL
    : levelVolumeL(store.shape.diameterM, store.shape.depthM);
  const used = grain.filter((lay) => lay.storeId === storeId).reduce((sum, lay) => {
    const lot = season.lots.find((one) => one.id === lay.lotId)!;
    const share = lay.massG / 1000 / capacityKg(volumeL, lot.testWeightKgPerHl);
    return sum + (store.kind === "bags" ? Math.ceil(share) : share);
  }, 0);
  return used <= (store.kind === "bags" ? store.places : 1);
}
