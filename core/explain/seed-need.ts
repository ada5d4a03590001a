import { dateOf } from "../calendar.ts";
import type { Planting } from "../season/land.ts";
import type { Crop } from "../season/quantity.ts";
import type { Season } from "../season/season.ts";

/** Seed for one crop of the plantings that are still to be drilled. */
export interface SeedNeed {
  readonly crop: Crop;
  /** The first to be drilled first. */
  readonly plantings: readonly Planting[];
  readonly areaM2: number;
  /** First day drilled, ISO. */
  readonly firstOn: string;
  /** Held back from the farm's own lots until the last of them is drilled, grams as in bin. */
  readonly heldG: number;
  /** Lots that it is held back from. */
  readonly heldFrom: readonly string[];
}

/** What has still to be drilled, and the farm's own seed that is held back for it, by crop, the first to be drilled first. */
export function seedNeeds(season: Season): SeedNeed[] {
  const today = dateOf(season.asOf);
  const toDrill = season.plantings.filter((one) => one.state === "planned")
    .toSorted((a, b) => a.drillOn < b.drillOn ? -1 : a.drillOn > b.drillOn ? 1 : 0);
  const cropOf = new Map(season.lots.map((lot) => [lot.id, lot]));
  return [...Map.groupBy(toDrill, (one) => one.crop)].map(([crop, plantings]) => {
    const last = plantings.at(-1)!.drillOn;
    const held = season.seedReserves.filter((one) =>
      cropOf.get(one.lotId)?.crop === crop && one.on >= today && one.on <= last
    );
    return {
      crop,
      plantings,
      areaM2: plantings.reduce((sum, one) => sum + one.areaM2, 0),
      firstOn: plantings[0]!.drillOn,
      heldG: held.reduce((sum, one) => sum + one.massG, 0),
      heldFrom: [...new Set(held.map((one) => cropOf.get(one.lotId)!.name))],
    };
  });
}
