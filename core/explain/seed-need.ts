import { dateOf } from "../calendar.ts";
import type { Lot } from "../season/grain.ts";
import type { Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";

/** Seed of one kind for the plantings that are still to be drilled with it. */
export interface SeedNeed {
  /** Id of the first planting. */
  readonly id: string;
  /** "spring barley, two-row malting", or "barley, two-row malting, spring". */
  readonly what: string;
  /** The first to be drilled first. */
  readonly plantings: readonly Planting[];
  readonly areaM2: number;
  /** First day drilled, ISO. */
  readonly firstOn: string;
  /** Held back from the farm's own lots of the same crop and class until the last of them is drilled, grams as in bin. */
  readonly heldG: number;
  /** Lots that it is held back from. */
  readonly heldFrom: readonly string[];
}

/** What has still to be drilled, and the farm's own seed that is held back for it, by crop, class and sowing season, the first to be drilled first. */
export function seedNeeds(season: Season): SeedNeed[] {
  const today = dateOf(season.asOf);
  const toDrill = season.plantings.filter((one) => one.state === "planned")
    .toSorted((a, b) => a.drillOn < b.drillOn ? -1 : a.drillOn > b.drillOn ? 1 : 0);
  const lots = new Map(season.lots.map((lot) => [lot.id, lot]));
  // Each reserve is for what is drilled next of its kind.
  const open = new Set(season.seedReserves.filter((one) => one.on >= today));
  return [...Map.groupBy(toDrill, kindOf).values()].map((plantings): SeedNeed => {
    const first = plantings[0]!, last = plantings.at(-1)!.drillOn;
    const held = [...open].filter((one) => one.on <= last && isSeedFor(lots.get(one.lotId), first));
    for (const one of held) open.delete(one);
    return {
      id: first.id,
      what: nameOf(first),
      plantings,
      areaM2: plantings.reduce((sum, one) => sum + one.areaM2, 0),
      firstOn: first.drillOn,
      heldG: held.reduce((sum, one) => sum + one.massG, 0),
      heldFrom: [...new Set(held.map((one) => lots.get(one.lotId)!.name))],
    };
  });
}

/** A class that says its season by itself needs it no second time. */
function nameOf({ crop, varietyClass, sowingSeason }: Planting): string {
  const season = varietyClass.includes(sowingSeason) ? "" : `${sowingSeason} `;
  return `${season}${crop}, ${varietyClass}`;
}

function kindOf({ crop, varietyClass, sowingSeason }: Planting): string {
  return [crop, varietyClass, sowingSeason].join("|");
}

function isSeedFor(lot: Lot | undefined, { crop, varietyClass }: Planting): boolean {
  return lot !== undefined && lot.owner === "farm" && lot.crop === crop && lot.varietyClass === varietyClass;
}
