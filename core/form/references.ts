import { formatDay } from "../day-names.ts";
import type { Season } from "../season/season.ts";
import type { Choice } from "./node.ts";

/** What an id can name. */
type Kind =
  | "field"
  | "planting"
  | "lot"
  | "store"
  | "vessel"
  | "person"
  | "malt"
  | "profile"
  | "beer"
  | "brew"
  | "grist line"
  | "tank"
  | "supply offer"
  | "contract"
  | "feed pick-up"
  | "malt batch"
  | "field or lot";

const NAMES: Readonly<Record<string, Kind>> = {
  fieldIds: "field",
  plantingId: "planting",
  lotId: "lot",
  lotIds: "lot",
  intoLotId: "lot",
  storeId: "store",
  fromStoreId: "store",
  toStoreId: "store",
  "vesselIds.steep": "vessel",
  "vesselIds.bed": "vessel",
  "vesselIds.kiln": "vessel",
  personId: "person",
  maltId: "malt",
  profileId: "profile",
  beerId: "beer",
  brewId: "brew",
  forLine: "grist line",
  lineId: "grist line",
  tankId: "tank",
  offerId: "supply offer",
  contractId: "contract",
  pickupId: "feed pick-up",
  batchId: "malt batch",
  ids: "field or lot",
};

/** Lists whose rows bring a new batch into being by its id. */
const BRINGS_BATCH = new Set(["orders", "outputs"]);

/** What the id in a field names, or null when the field holds a new id. */
export function referredKind(name: string, parent: string): Kind | null {
  if (name === "batchId" && BRINGS_BATCH.has(parent)) return null;
  return NAMES[`${parent}.${name}`] ?? NAMES[name] ?? null;
}

/** Choices are the same for every field of a kind, and a page of a long list asks for them again and again. */
const known = new WeakMap<Season, Map<string, readonly Choice[]>>();

/** What an id in a field can name in a season, in the order of the file. `root` is the value that the form is of. */
export function referenceChoices(
  season: Season,
  kind: Kind,
  name: string,
  root: unknown,
): readonly Choice[] {
  if (kind === "grist line") return gristLines(season, root);
  const ofSeason = known.get(season) ?? new Map<string, readonly Choice[]>();
  known.set(season, ofSeason);
  const key = `${kind} ${name}`;
  const choices = ofSeason.get(key) ?? findChoices(season, kind, name);
  ofSeason.set(key, choices);
  return choices;
}

function findChoices(season: Season, kind: Exclude<Kind, "grist line">, name: string): Choice[] {
  switch (kind) {
    case "field":
      return season.fields.map(named);
    case "planting":
      return season.plantings.map(({ id, crop, sowingSeason, harvestYear }) =>
        choice(id, `${sowingSeason} ${crop} of ${harvestYear} (${id})`)
      );
    case "lot":
      return season.lots.map(named);
    case "store":
      return season.stores.map(named);
    case "vessel":
      return season.vessels.filter(({ stages }) => stages.some((stage) => stage === name)).map(named);
    case "person":
      return season.people.map(named);
    case "malt":
      return season.maltTypes.map(named);
    case "profile":
      return season.maltTypes.flatMap((malt) =>
        malt.made.from === "grain"
          ? malt.made.profiles.map((one) => choice(one.id, `${malt.name}: ${one.name}`))
          : []
      );
    case "beer":
      return season.beers.map(named);
    case "brew":
      return season.brews.map(({ id, beerId, on }) => {
        const beer = season.beers.find((one) => one.id === beerId);
        return choice(id, `${beer?.name ?? beerId}, ${formatDay(on, undefined, "withYear")} (${id})`);
      });
    case "tank":
      return season.tanks.map(named);
    case "supply offer":
      return season.supplyOffers.map(({ id, supplier }) => choice(id, `${supplier} (${id})`));
    case "contract":
      return season.contracts.map(({ id, party }) => choice(id, `${party} (${id})`));
    case "feed pick-up":
      return season.feedPickups.map(({ id, buyer }) => choice(id, `${buyer} (${id})`));
    case "malt batch":
      return batches(season);
    case "field or lot":
      return [...season.fields, ...season.lots].map(named);
  }
}

function choice(id: string, words: string): Choice {
  return { text: id, words, is: id };
}

function named({ id, name }: { id: string; name: string }): Choice {
  return choice(id, name === "" ? id : `${name} (${id})`);
}

/** A beer's form offers its own lines; elsewhere a line stands with its beer's name. */
function gristLines(season: Season, root: unknown): Choice[] {
  const own = season.beers.find((beer) => beer.id === (root as { id?: unknown } | undefined)?.id);
  const beers = own === undefined ? season.beers : [own];
  return beers.flatMap((beer) => beer.grist.map(({ id }) => choice(id, `${beer.name}: ${id}`)));
}

function batches({ opening, records, bookings, maltTypes, supplyOffers }: Season): Choice[] {
  const malt = (id: string) => maltTypes.find((one) => one.id === id)?.name ?? id;
  const ordered = [...records.orders, ...bookings.orders].map(({ batchId, offerId }) => {
    const what = supplyOffers.find((one) => one.id === offerId)?.ingredient;
    const words = what?.kind === "malt" ? `${malt(what.maltId)}, bought` : `${what?.crop ?? "grain"}, bought`;
    return choice(batchId, `${words} (${batchId})`);
  });
  return [
    ...opening.malt.map(({ id, ingredient }) =>
      choice(id, `${ingredient.kind === "malt" ? malt(ingredient.maltId) : ingredient.crop} (${id})`)
    ),
    ...records.runs.flatMap((run) =>
      run.outputs.map(({ batchId, maltId }) => choice(batchId, `${malt(maltId)} (${batchId})`))
    ),
    ...ordered,
  ];
}
