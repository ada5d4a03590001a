import type { Lot } from "./grain.ts";
import type { Season } from "./season.ts";

/**
 * A lot as it is given and every lot of the season whose grain is in it, each once: by the parents they name and by recorded
 * mixes. Lots that the season does not have are left out.
 */
export function madeFrom(season: Season, lot: Lot): Lot[] {
  const lots = new Map(season.lots.map((one) => [one.id, one])).set(lot.id, lot);
  return [...reached(lot.id, (id) => olderLots(season, lots, id))].flatMap((id) => lots.get(id) ?? []);
}

type Lots = ReadonlyMap<string, Lot>;

/** Lots that a lot was made from by the parents it names, or that a record tipped into it. */
function olderLots(season: Season, lots: Lots, id: string): string[] {
  const named = (lots.get(id)?.parents ?? []).flatMap((parent) =>
    parent.kind === "lot" ? [parent.lotId] : []
  );
  return [...named, ...tippedInto(season, id)];
}

/** Lots that records tipped into a lot, all of them or those of the days after one. */
function tippedInto(season: Season, id: string, after = ""): string[] {
  return season.records.mixes.filter((mix) => mix.intoLotId === id && mix.on > after)
    .flatMap((mix) => mix.parents.map((parent) => parent.lotId));
}

/** Everything that can be reached from an id, itself first; however often ways part and meet again, each id once. */
function reached(start: string, next: (id: string) => readonly string[]): ReadonlySet<string> {
  const seen = new Set([start]);
  // A set may grow while it is walked through, and then the new ones come last.
  for (const id of seen) next(id).forEach((one) => seen.add(one));
  return seen;
}

/** What a lot's grain is besides other lots. */
interface Own {
  /** Fields of its plantings. */
  readonly fields: readonly string[];
  /** Some of it was bought, or nobody wrote down where it grew. */
  readonly foreign: boolean;
}

function ownGrain(season: Season, lots: Lots, id: string): Own {
  const parents = lots.get(id)?.parents ?? [];
  const plantings = plantingsOf(season, id, parents);
  return {
    fields: plantings.flatMap((planting) => planting.fieldIds),
    foreign: parents.some((parent) => parent.kind === "bought") || isUntold(season, id, parents),
  };
}

/** Whether some of a lot's grain came from nobody wrote down where. */
export function hasUntoldGrain(season: Season, lot: Lot): boolean {
  return isUntold(season, lot.id, lot.parents);
}

function isUntold(season: Season, id: string, parents: Lot["parents"]): boolean {
  const told = plantingsOf(season, id, parents).length > 0 ||
    parents.some((parent) => parent.kind !== "planting");
  return !told && cameByItself(season, id);
}

function plantingsOf(season: Season, id: string, parents: Lot["parents"]): Season["plantings"] {
  return season.plantings.filter((planting) =>
    planting.lotId === id ||
    parents.some((parent) => parent.kind === "planting" && parent.plantingId === planting.id)
  );
}

/** True unless all that is known of a lot is what records tipped into it. */
function cameByItself({ opening, records }: Season, id: string): boolean {
  return opening.grain.some((row) => row.lotId === id && row.massG > 0) ||
    records.fills.some((fill) => fill.lotId === id && fill.massG > 0) ||
    !records.mixes.some((mix) => mix.intoLotId === id);
}

/**
 * Whether a lot descends from the named fields or lots and, if it must be unmixed, from nothing else. A named lot is whatever
 * it was formed of; what was tipped into it later is another matter.
 */
export function descends(
  season: Season,
  lotId: string,
  kind: "field" | "lot",
  ids: readonly string[],
  unmixed: boolean,
): boolean {
  const lots = new Map(season.lots.map((lot) => [lot.id, lot]));
  const older = (id: string) => olderLots(season, lots, id);
  if (kind === "field") {
    const own = [...reached(lotId, older)].map((id) => ownGrain(season, lots, id));
    const fields = own.flatMap((one) => one.fields);
    if (!unmixed) return fields.some((id) => ids.includes(id));
    return fields.length > 0 && fields.every((id) => ids.includes(id)) && !own.some((one) => one.foreign);
  }
  if (!unmixed) return [...reached(lotId, older)].some((id) => ids.includes(id));
  const within = [
    ...reached(
      lotId,
      (id) => ids.includes(id) ? tippedInto(season, id, lots.get(id)?.formedOn) : older(id),
    ),
  ];
  const onlyLots = (id: string) => {
    const { fields, foreign } = ownGrain(season, lots, id);
    return fields.length === 0 && !foreign;
  };
  return within.some((id) => ids.includes(id)) && within.every((id) => ids.includes(id) || onlyLots(id));
}
