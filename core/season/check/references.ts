import type { Ingredient } from "../brewing.ts";
import { maltDeliveries } from "../malt-deliveries.ts";
import { STAGES } from "../malthouse.ts";
import type { Season } from "../season.ts";
import type { Checking } from "./checking.ts";
import type { Path } from "./finding.ts";
import { nearest } from "./nearest.ts";

/** One id that points to something else of the season, and the ids it may point to. */
interface Reference {
  readonly path: Path;
  readonly id: string;
  readonly kind: string;
  readonly known: ReadonlySet<string>;
}

const idsOf = (rows: readonly { id: string }[]): ReadonlySet<string> => new Set(rows.map((row) => row.id));

/** Ids of all malt batches that are in store, came out of a run, or come with an order. */
function knownBatches(season: Season): ReadonlySet<string> {
  const { opening, records, bookings } = season;
  return new Set([
    ...opening.malt.map((batch) => batch.id),
    ...records.runs.flatMap((run) => run.outputs.map((output) => output.batchId)),
    ...[...records.orders, ...bookings.orders].map((order) => order.batchId),
  ]);
}

/** Every reference of a season. */
function references(season: Season): Reference[] {
  const found: Reference[] = [];
  const { opening, records, bookings } = season;
  const fields = idsOf(season.fields), plantings = idsOf(season.plantings), lots = idsOf(season.lots);
  const stores = idsOf(season.stores), people = idsOf(season.people), malts = idsOf(season.maltTypes);
  const beers = idsOf(season.beers), brews = idsOf(season.brews), tanks = idsOf(season.tanks);
  const vessels = idsOf(season.vessels), offers = idsOf(season.supplyOffers), batches = knownBatches(season);
  const contracts = idsOf(season.contracts), pickups = idsOf(season.feedPickups);

  const refer = (path: Path, id: string | undefined, kind: string, known: ReadonlySet<string>) => {
    if (id !== undefined) found.push({ path, id, kind, known });
  };
  const ingredient = (path: Path, one: Ingredient) => {
    if (one.kind === "malt") refer([...path, "maltId"], one.maltId, "malt", malts);
  };
  const grain = (path: Path, row: { lotId?: string | undefined; storeId?: string | undefined }) => {
    refer([...path, "lotId"], row.lotId, "lot", lots);
    refer([...path, "storeId"], row.storeId, "store", stores);
  };

  season.plantings.forEach((planting, i) => {
    planting.fieldIds.forEach((id, j) => refer(["plantings", i, "fieldIds", j], id, "field", fields));
    refer(["plantings", i, "lotId"], planting.lotId, "lot", lots);
  });
  season.weighTickets.forEach((ticket, i) => {
    refer(["weighTickets", i, "plantingId"], ticket.plantingId, "planting", plantings);
    refer(["weighTickets", i, "lotId"], ticket.lotId, "lot", lots);
  });
  season.seedReserves.forEach((seed, i) => refer(["seedReserves", i, "lotId"], seed.lotId, "lot", lots));
  season.lots.forEach((lot, i) =>
    lot.parents.forEach((parent, j) => {
      const path = ["lots", i, "parents", j];
      if (parent.kind === "planting") {
        refer([...path, "plantingId"], parent.plantingId, "planting", plantings);
      }
      if (parent.kind === "lot") refer([...path, "lotId"], parent.lotId, "lot", lots);
    })
  );
  for (const list of ["weekly", "extra", "lookIns"] as const) {
    season.roster[list].forEach((row, i) =>
      refer(["roster", list, i, "personId"], row.personId, "person", people)
    );
  }
  season.maltTypes.forEach((malt, i) => {
    const path = ["maltTypes", i, "made"];
    if (malt.made.from === "malt") refer([...path, "maltId"], malt.made.maltId, "malt", malts);
    if (malt.made.from === "grain") {
      malt.made.alsoGives.forEach((other, j) =>
        refer([...path, "alsoGives", j, "maltId"], other.maltId, "malt", malts)
      );
    }
  });
  season.beers.forEach((beer, i) => {
    const lines = idsOf(beer.grist);
    beer.grist.forEach((line, j) => ingredient(["beers", i, "grist", j, "ingredient"], line.ingredient));
    beer.substitutes.forEach((other, j) => {
      refer(["beers", i, "substitutes", j, "forLine"], other.forLine, "grist line of this beer", lines);
      ingredient(["beers", i, "substitutes", j, "ingredient"], other.ingredient);
    });
    beer.requires.forEach((rule, j) =>
      rule.ids.forEach((id, k) =>
        refer(["beers", i, "requires", j, "ids", k], id, rule.kind, rule.kind === "lot" ? lots : fields)
      )
    );
  });
  season.brews.forEach((brew, i) => refer(["brews", i, "beerId"], brew.beerId, "beer", beers));
  season.supplyOffers.forEach((offer, i) => ingredient(["supplyOffers", i, "ingredient"], offer.ingredient));
  season.contracts.forEach((contract, i) => {
    if (contract.kind !== "sell-malt") {
      return refer(["contracts", i, "lotId"], contract.lotId, "lot", lots);
    }
    refer(["contracts", i, "maltId"], contract.maltId, "malt", malts);
    contract.lotIds?.forEach((id, j) => refer(["contracts", i, "lotIds", j], id, "lot", lots));
  });

  opening.grain.forEach((row, i) => grain(["opening", "grain", i], row));
  opening.malt.forEach((batch, i) => {
    ingredient(["opening", "malt", i, "ingredient"], batch.ingredient as Ingredient);
    batch.lotIds.forEach((id, j) => refer(["opening", "malt", i, "lotIds", j], id, "lot", lots));
  });
  opening.tanks.forEach((row, i) => refer(["opening", "tanks", i, "tankId"], row.tankId, "tank", tanks));

  for (const [part, book] of [["records", records], ["bookings", bookings]] as const) {
    book.runs.forEach((run, i) => {
      const path = [part, "runs", i];
      run.draws.forEach((draw, j) => grain([...path, "draws", j], draw));
      refer([...path, "maltId"], run.maltId, "malt", malts);
      const made = season.maltTypes.find((malt) => malt.id === run.maltId)?.made;
      if (made?.from === "grain") {
        refer([...path, "profileId"], run.profileId, "profile of this malt", idsOf(made.profiles));
      }
      for (const stage of STAGES) {
        refer([...path, "vesselIds", stage], run.vesselIds[stage], "vessel", vessels);
      }
    });
    book.orders.forEach((order, i) =>
      refer([part, "orders", i, "offerId"], order.offerId, "supply offer", offers)
    );
    book.feedLoads.forEach((load, i) => {
      refer([part, "feedLoads", i, "pickupId"], load.pickupId, "feed pick-up", pickups);
      load.items.forEach((item, j) => grain([part, "feedLoads", i, "items", j], item));
    });
    book.moves.forEach((move, i) => {
      refer([part, "moves", i, "lotId"], move.lotId, "lot", lots);
      refer([part, "moves", i, "fromStoreId"], move.fromStoreId, "store", stores);
      refer([part, "moves", i, "toStoreId"], move.toStoreId, "store", stores);
    });
    book.brews.forEach((brew, i) => refer([part, "brews", i, "brewId"], brew.brewId, "brew", brews));
  }
  records.runs.forEach((run, i) =>
    run.outputs.forEach((output, j) =>
      refer(["records", "runs", i, "outputs", j, "maltId"], output.maltId, "malt", malts)
    )
  );
  records.brews.forEach((brew, i) => {
    brew.tanks.forEach((fill, j) =>
      refer(["records", "brews", i, "tanks", j, "tankId"], fill.tankId, "tank", tanks)
    );
    const beerId = season.brews.find((one) => one.id === brew.brewId)?.beerId;
    const beer = season.beers.find((one) => one.id === beerId);
    brew.grist.forEach((use, j) => {
      const path = ["records", "brews", i, "grist", j];
      if (beer !== undefined) {
        refer([...path, "lineId"], use.lineId, "grist line of this beer", idsOf(beer.grist));
      }
      if (use.from.kind === "batch") {
        refer([...path, "from", "batchId"], use.from.batchId, "malt batch", batches);
      } else grain([...path, "from"], use.from);
    });
  });
  records.mixes.forEach((mix, i) => {
    mix.parents.forEach((parent, j) => grain(["records", "mixes", i, "parents", j], parent));
    refer(["records", "mixes", i, "intoLotId"], mix.intoLotId, "lot", lots);
    refer(["records", "mixes", i, "storeId"], mix.storeId, "store", stores);
  });
  records.fills.forEach((fill, i) => grain(["records", "fills", i], fill));
  records.deliveries.forEach((delivery, i) => {
    refer(["records", "deliveries", i, "contractId"], delivery.contractId, "contract", contracts);
    grain(["records", "deliveries", i], delivery);
  });
  maltDeliveries(season).forEach((delivery, i) => {
    const path = ["records", "maltDeliveries", i];
    refer([...path, "contractId"], delivery.contractId, "contract", contracts);
    refer([...path, "batchId"], delivery.batchId, "malt batch", batches);
  });
  records.adjustments.forEach((adjustment, i) => {
    grain(["records", "adjustments", i], adjustment);
    refer(["records", "adjustments", i, "batchId"], adjustment.batchId, "malt batch", batches);
  });
  return found;
}

/** Every reference leads to something; `lost` are ids of rows that could not be read and are not missed twice. */
export function checkReferences({ season, tell }: Checking, lost: ReadonlySet<string>): void {
  for (const { path, id, kind, known } of references(season)) {
    if (known.has(id) || lost.has(id)) continue;
    const meant = nearest(id, known);
    tell("unknown-reference", path, {
      limit: `the id of a ${kind}`,
      message: `There is no ${kind} with the id "${id}".`,
      wayOut: meant === undefined
        ? `Add it, or name one that is there: ${[...known].slice(0, 8).join(", ") || "there is none yet"}.`
        : `Did you mean "${meant}"?`,
    });
  }
}

/** A run's vessels serve the stages it uses them for. */
export function checkRunVessels({ season, tell }: Checking): void {
  for (const part of ["records", "bookings"] as const) {
    for (const [i, run] of season[part].runs.entries()) {
      for (const stage of STAGES) {
        const vessel = season.vessels.find((one) => one.id === run.vesselIds[stage]);
        if (vessel === undefined || vessel.stages.includes(stage)) continue;
        tell("wrong-vessel", [part, "runs", i, "vesselIds", stage], {
          limit: `a vessel for the stage ${stage}`,
          message: `${vessel.name} is not a vessel for the stage ${stage}.`,
          wayOut: `Name a vessel that serves it, or add ${stage} to the stages of ${vessel.name}.`,
        });
      }
    }
  }
}
