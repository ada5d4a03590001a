import type { Season } from "../season.ts";
import type { Checking } from "./checking.ts";

/** Words by which a line of crop history counts as a cereal; maize is asked for by itself. */
const CEREAL = /\b(barley|wheat|rye|oats?|triticale|spelt|durum|cereals?)\b/i;
const CORN = /\b(corn|maize)\b/i;

/** Crops on a field in a harvest year, from history and plantings that were not lost. */
export function cropsOn(season: Season, fieldId: string, year: number): string[] {
  const field = season.fields.find((one) => one.id === fieldId);
  return [
    ...(field?.cropHistory ?? []).filter((row) => row.year === year).map((row) => row.crop),
    ...season.plantings.filter((planting) =>
      planting.fieldIds.includes(fieldId) && planting.harvestYear === year && planting.state !== "lost"
    ).map((planting) => planting.crop),
  ];
}

/** What a rotation should avoid where it can still be changed: a third cereal in a row, and small grain after corn. */
export function checkRotation({ season, tell }: Checking): void {
  for (const [i, planting] of season.plantings.entries()) {
    if (planting.state !== "planned" && planting.state !== "sown") continue;
    for (const [j, fieldId] of planting.fieldIds.entries()) {
      const path = ["plantings", i, "fieldIds", j];
      const name = season.fields.find((field) => field.id === fieldId)?.name ?? fieldId;
      const before = [1, 2].map((years) => cropsOn(season, fieldId, planting.harvestYear - years));
      if (before.every((crops) => crops.some((crop) => CEREAL.test(crop)))) {
        tell("rotation-cereals", path, {
          value: [planting.crop, ...before.map((crops) => crops.join(" and "))].join(", before it "),
          limit: "no cereal in three years running",
          message: `${name} would carry a cereal for the third year running: take-all and mould build up.`,
          wayOut: "Put a break crop there, or accept the risk.",
        });
      }
      if (before[0]!.some((crop) => CORN.test(crop))) {
        tell("rotation-corn", path, {
          value: `${planting.crop} after ${before[0]!.join(" and ")}`,
          limit: "no small grain straight after corn",
          message: `Corn stubble on ${name} carries the head blight that puts toxin into the grain.`,
          wayOut: "Choose another field, bury the residue, or test the grain early.",
        });
      }
    }
  }
}

/** A planting covers no more land than its fields have. */
export function checkAreas({ season, tell }: Checking): void {
  for (const [i, planting] of season.plantings.entries()) {
    const fields = season.fields.filter((field) => planting.fieldIds.includes(field.id));
    const areaM2 = fields.reduce((sum, field) => sum + field.areaM2, 0);
    if (fields.length === 0 || planting.areaM2 <= areaM2 * AREA_TOLERANCE) continue;
    tell("area-over-field", ["plantings", i, "areaM2"], {
      value: `${planting.areaM2} m2`,
      limit: `${areaM2} m2, all its fields`,
      message: "More land is drilled than these fields have.",
      wayOut: "Correct the area, or name the other fields.",
    });
  }
}

/** Acres and hectares rounded by hand differ by a little. */
const AREA_TOLERANCE = 1.005;
