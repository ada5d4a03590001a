import type { Field, Planting } from "../season/land.ts";
import type { Season } from "../season/season.ts";

type Land = Pick<Season, "fields" | "plantings" | "weighTickets" | "lots">;

/** What of fields, plantings and lots goes on. */
export interface NextLand extends Land {
  readonly goneLots: Season["lots"];
}

/**
 * Keeps the lots that are needed and everything they descend from, and the plantings that are still to be cut or brought one of
 * them. What goes of the plantings that were harvested is written into the crop history of their fields.
 */
export function nextLand(land: Land, needed: Iterable<string>): NextLand {
  const toCome = land.plantings.filter((one) => one.state === "planned" || one.state === "sown");
  const keep = new Set([...needed, ...toCome.map((one) => one.lotId)]);
  const lots = new Map(land.lots.map((one) => [one.id, one]));
  const cutInto = new Map(land.plantings.map((one) => [one.id, one.lotId]));
  // A set may grow while it is walked through, and then the new ones come last.
  for (const id of keep) {
    for (const parent of lots.get(id)?.parents ?? []) {
      const lotId = parent.kind === "lot"
        ? parent.lotId
        : parent.kind === "planting"
        ? cutInto.get(parent.plantingId)
        : undefined;
      if (lotId !== undefined) keep.add(lotId);
    }
  }
  const plantings = land.plantings.filter((one) => toCome.includes(one) || keep.has(one.lotId));
  const kept = new Set(plantings.map((one) => one.id));
  const gone = land.plantings.filter((one) => !kept.has(one.id) && one.state === "harvested");
  return {
    fields: land.fields.map((field) => withHistory(field, gone)),
    plantings,
    weighTickets: land.weighTickets.filter((one) => kept.has(one.plantingId) && keep.has(one.lotId)),
    lots: land.lots.filter((one) => keep.has(one.id)),
    goneLots: land.lots.filter((one) => !keep.has(one.id)),
  };
}

/** A field with the years of these plantings that its history has not got. */
function withHistory(field: Field, plantings: readonly Planting[]): Field {
  const years = new Set(field.cropHistory.map((one) => one.year));
  const grown = plantings.filter((one) => one.fieldIds.includes(field.id) && !years.has(one.harvestYear))
    .map((one) => ({ year: one.harvestYear, crop: `${one.sowingSeason} ${one.crop}` }));
  if (grown.length === 0) return field;
  return { ...field, cropHistory: [...field.cropHistory, ...grown].sort((a, b) => a.year - b.year) };
}
