import type { Season } from "./season.ts";

/** Where a lot's grain comes from. */
interface Ancestry {
  fields: Set<string>;
  lots: Set<string>;
  /** Lots behind which nothing is known. */
  roots: Set<string>;
  /** Some of it was bought or is of unknown field. */
  foreign: boolean;
}

function ancestryOf(season: Season, lotId: string, trail: readonly string[]): Ancestry {
  const lot = season.lots.find((one) => one.id === lotId);
  const plantings = season.plantings.filter((planting) =>
    planting.lotId === lotId ||
    lot?.parents.some((parent) => parent.kind === "planting" && parent.plantingId === planting.id)
  );
  const all: Ancestry = {
    fields: new Set(plantings.flatMap((planting) => planting.fieldIds)),
    lots: new Set([lotId]),
    roots: new Set(),
    foreign: false,
  };
  let older = 0;
  for (const parent of lot?.parents ?? []) {
    if (parent.kind === "bought") all.foreign = true;
    if (parent.kind !== "lot") continue;
    older++;
    if (trail.includes(parent.lotId)) continue;
    const behind = ancestryOf(season, parent.lotId, [...trail, lotId]);
    for (const id of behind.fields) all.fields.add(id);
    for (const id of behind.lots) all.lots.add(id);
    for (const id of behind.roots) all.roots.add(id);
    all.foreign ||= behind.foreign;
  }
  if (older === 0) all.roots.add(lotId);
  if (older === 0 && plantings.length === 0) all.foreign = true;
  return all;
}

/** Whether a lot descends from the named fields or lots and, if it must be unmixed, from nothing else. */
export function descends(
  season: Season,
  lotId: string,
  kind: "field" | "lot",
  ids: readonly string[],
  unmixed: boolean,
): boolean {
  const from = ancestryOf(season, lotId, []);
  if (kind === "field") {
    const some = ids.some((id) => from.fields.has(id));
    return some && (!unmixed || (!from.foreign && [...from.fields].every((id) => ids.includes(id))));
  }
  if (!unmixed) return ids.some((id) => from.lots.has(id));
  return ids.includes(lotId) || [...from.roots].every((id) => ids.includes(id));
}
