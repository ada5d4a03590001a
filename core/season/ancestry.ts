import type { Lot } from "./grain.ts";
import type { Season } from "./season.ts";

/**
 * A lot as it is given and every lot of the season whose grain is in it, each once: by the parents they name and by recorded
 * mixes. Lots that the season does not have are left out.
 */
export function madeFrom(season: Season, lot: Lot): Lot[] {
  const lots = new Map(season.lots.map((one) => [one.id, one])).set(lot.id, lot);
  return [...reached(lot.id, (id) => [
    ...(lots.get(id)?.parents ?? []).flatMap((parent) => parent.kind === "lot" ? [parent.lotId] : []),
    ...season.records.mixes.filter((mix) => mix.intoLotId === id)
      .flatMap((mix) => mix.parents.map((parent) => parent.lotId)),
  ])].flatMap((id) => lots.get(id) ?? []);
}

/** Everything that can be reached from an id, itself first; however often ways part and meet again, each id once. */
function reached(start: string, next: (id: string) => readonly string[]): ReadonlySet<string> {
  const seen = new Set([start]);
  // A set may grow while it is walked through, and then the new ones come last.
  for (const id of seen) next(id).forEach((one) => seen.add(one));
  return seen;
}

/** Where a lot's grain comes from. */
interface Ancestry {
  readonly fields: ReadonlySet<string>;
  readonly lots: ReadonlySet<string>;
  /** Lots behind which nothing is known. */
  readonly roots: readonly string[];
  /** Some of it was bought or is of unknown field. */
  readonly foreign: boolean;
}

function ancestryOf(season: Season, lotId: string): Ancestry {
  const rows = new Map(season.lots.map((lot) => [lot.id, lot]));
  const parentsOf = (id: string) => rows.get(id)?.parents ?? [];
  const olderThan = (id: string) =>
    parentsOf(id).flatMap((parent) => parent.kind === "lot" ? [parent.lotId] : []);
  const lots = reached(lotId, olderThan);
  const fields = new Set<string>();
  let foreign = false;
  for (const id of lots) {
    const parents = parentsOf(id);
    const plantings = season.plantings.filter((planting) =>
      planting.lotId === id ||
      parents.some((parent) => parent.kind === "planting" && parent.plantingId === planting.id)
    );
    plantings.forEach((planting) => planting.fieldIds.forEach((field) => fields.add(field)));
    if (parents.some((parent) => parent.kind === "bought")) foreign = true;
    if (olderThan(id).length === 0 && plantings.length === 0) foreign = true;
  }
  return { fields, lots, roots: [...lots].filter((id) => olderThan(id).length === 0), foreign };
}

/** Whether a lot descends from the named fields or lots and, if it must be unmixed, from nothing else. */
export function descends(
  season: Season,
  lotId: string,
  kind: "field" | "lot",
  ids: readonly string[],
  unmixed: boolean,
): boolean {
  const from = ancestryOf(season, lotId);
  if (kind === "field") {
    const some = ids.some((id) => from.fields.has(id));
    return some && (!unmixed || (!from.foreign && [...from.fields].every((id) => ids.includes(id))));
  }
  if (!unmixed) return ids.some((id) => from.lots.has(id));
  return ids.includes(lotId) || from.roots.every((id) => ids.includes(id));
}
