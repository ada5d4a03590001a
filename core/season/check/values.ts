import { dictionary } from "../quantity.ts";
import { seasonSchema } from "../season.ts";
import type { Checking } from "./checking.ts";
import { type Path, shown } from "./finding.ts";
import { unitHint } from "./unit-hint.ts";
import { eachNumber } from "./walk.ts";

/** Shares are written with a few decimals; this much may be missing or over. */
const SHARE_TOLERANCE = 1e-6;

/** Numbers a farm may well mean and more often mistypes: outside the range the data dictionary calls plausible. */
export function checkPlausible({ season, tell }: Checking): void {
  eachNumber(seasonSchema, season, (path, schema, value) => {
    const entry = dictionary.get(schema);
    if (entry === undefined) return;
    const [least, greatest] = entry.plausible;
    if (value >= least && value <= greatest) return;
    const unit = entry.unit === "1" ? "" : ` ${entry.unit}`;
    const hint = unitHint(value, entry, season.readerUnits);
    tell("implausible", path, {
      value: `${value}${unit}`,
      limit: `usually ${least} to ${greatest}${unit}`,
      message: `${shown(value)}${unit} is ${value < least ? "less" : "more"} than one would expect.`,
      wayOut: hint === "" ? "Correct it, or leave it if it is right." : `${hint} Leave it if it is right.`,
    });
  });
}

/** Shares that must make a whole, and losses that must leave something. */
export function checkShares({ season, tell }: Checking): void {
  for (const [i, beer] of season.beers.entries()) {
    const sum = beer.grist.reduce((total, line) => total + line.share, 0);
    if (beer.grist.length === 0 || Math.abs(sum - 1) <= SHARE_TOLERANCE) continue;
    tell("shares-not-one", ["beers", i, "grist"], {
      value: Number(sum.toFixed(6)),
      limit: "1 in all",
      message: `The shares of the grist add up to ${Number(sum.toFixed(6))}.`,
      wayOut: "Change them until they add up to 1, which is 100 %.",
    });
  }
  for (const [i, malt] of season.maltTypes.entries()) {
    if (malt.made.from !== "grain") continue;
    const { steepLossDm, respirationLossDm, rootletLossDm, alsoGives } = malt.made;
    const losses = steepLossDm + respirationLossDm + rootletLossDm;
    const others = alsoGives.reduce((total, other) => total + other.share, 0);
    if (losses >= 1) tellOver(["maltTypes", i, "made"], losses, "losses of dry matter");
    if (others >= 1) tellOver(["maltTypes", i, "made", "alsoGives"], others, "shares of other malts");
  }

  function tellOver(path: Path, sum: number, what: string): void {
    tell("losses-over-one", path, {
      value: Number(sum.toFixed(6)),
      limit: "below 1 in all",
      message: `The ${what} leave nothing of this malt.`,
      wayOut: "Make them smaller.",
    });
  }
}

/** Values that the file's limits let pass and that nothing can be computed with. */
export function checkImpossible({ season, tell }: Checking): void {
  const zero = (path: Path, value: number, what: string) => {
    if (value === 0) tellImpossible(path, "above 0", `${what} cannot be 0.`);
  };
  const whole = (path: Path, value: number, what: string) => {
    if (value === 1) tellImpossible(path, "below 1", `${what} cannot be all of it.`);
  };
  const tellImpossible = (path: Path, limit: string, message: string) =>
    tell("impossible-value", path, { limit, message, wayOut: `Give it a value ${limit}.` });

  season.plantings.forEach((planting, i) => {
    for (
      const name of ["moistureAtHarvestWb", "dryToWb", "handlingLoss", "intakeCleaningLoss"] as const
    ) whole(["plantings", i, name], planting[name], "Moisture or loss");
  });
  season.lots.forEach((lot, i) => {
    whole(["lots", i, "moistureWb"], lot.moistureWb, "Moisture");
    if (lot.maltExtractDb === undefined) return;
    zero(["lots", i, "maltExtractDb"], lot.maltExtractDb, "Extract");
    whole(["lots", i, "maltExtractDb"], lot.maltExtractDb, "Extract");
  });
  season.stores.forEach((store, i) => {
    if (store.kind === "bags") zero(["stores", i, "placeVolumeL"], store.placeVolumeL, "The volume of a bag");
    else if (store.shape.kind === "volume") {
      zero(["stores", i, "shape", "volumeL"], store.shape.volumeL, "The volume of a bin");
    }
  });
  season.maltTypes.forEach((malt, i) => {
    whole(["maltTypes", i, "maltMoistureWb"], malt.maltMoistureWb, "Moisture");
    zero(["maltTypes", i, "extractCoarseDb"], malt.extractCoarseDb, "Extract");
    whole(["maltTypes", i, "extractCoarseDb"], malt.extractCoarseDb, "Extract");
    if (malt.made.from === "grain") {
      whole(["maltTypes", i, "made", "screeningLoss"], malt.made.screeningLoss, "Loss");
      whole(["maltTypes", i, "made", "culmMoistureWb"], malt.made.culmMoistureWb, "Moisture");
    }
    if (malt.made.from === "malt") {
      whole(["maltTypes", i, "made", "weightLoss"], malt.made.weightLoss, "Loss");
    }
  });
  zero(["maltStore", "placeG"], season.maltStore.placeG, "The weight of a place");
  season.beers.forEach((beer, i) => {
    zero(["beers", i, "brewhouseEfficiency"], beer.brewhouseEfficiency, "Efficiency");
    zero(["beers", i, "volumeL"], beer.volumeL, "The volume of a brew");
    for (const list of ["grist", "substitutes"] as const) {
      beer[list].forEach((line, j) => {
        if (line.ingredient.kind !== "grain") return;
        zero(["beers", i, list, j, "ingredient", "extractAsIs"], line.ingredient.extractAsIs, "Extract");
      });
    }
  });
  season.supplyOffers.forEach((offer, i) => {
    zero(["supplyOffers", i, "packG"], offer.packG, "The weight of a pack");
    zero(["supplyOffers", i, "extractAsIs"], offer.extractAsIs, "Extract");
  });
  season.opening.malt.forEach((batch, i) =>
    zero(["opening", "malt", i, "extractAsIs"], batch.extractAsIs, "Extract")
  );
  for (const part of ["records", "bookings"] as const) {
    season[part].runs.forEach((run, i) =>
      run.draws.forEach((draw, j) =>
        zero([part, "runs", i, "draws", j, "massG"], draw.massG, "The weight drawn for a run")
      )
    );
  }
}

/** Malt must be ready before it is too old. */
export function checkShelfLife({ season, tell }: Checking): void {
  for (const [i, malt] of season.maltTypes.entries()) {
    if (malt.shelfLifeDays >= malt.restDays) continue;
    tell("shelf-shorter-than-rest", ["maltTypes", i, "shelfLifeDays"], {
      limit: `at least its rest of ${malt.restDays} days`,
      message: `${malt.name} is past its best before it has rested, so it can never be brewed.`,
      wayOut: "Shorten its rest or lengthen its shelf life.",
    });
  }
}

/** An adjustment is about grain in one store, or about one malt batch. */
export function checkAdjustments({ season, tell }: Checking): void {
  for (const [i, { lotId, storeId, batchId }] of season.records.adjustments.entries()) {
    const ofGrain = lotId !== undefined && storeId !== undefined && batchId === undefined;
    const ofMalt = lotId === undefined && storeId === undefined && batchId !== undefined;
    if (ofGrain || ofMalt) continue;
    tell("adjustment-unclear", ["records", "adjustments", i], {
      value: [lotId, storeId, batchId].filter((one) => one !== undefined).join(", ") || undefined,
      limit: "a lot and its store, or a malt batch",
      message: "It is not clear what was counted.",
      wayOut: "Name either a lot and a store, or a malt batch, and nothing else.",
    });
  }
}

/** A lot is of one crop, the crop of its plantings and of the lots in it. */
export function checkCrops({ season, tell }: Checking): void {
  const cropOf = new Map(season.lots.map((lot) => [lot.id, lot.crop]));
  const compare = (path: Path, crop: string, lotId: string) => {
    const other = cropOf.get(lotId);
    if (other === undefined || other === crop) return;
    tell("crop-mismatch", path, {
      value: `${crop} and ${other}`,
      limit: "one crop in a lot",
      message: `This is ${crop}, but lot ${lotId} is ${other}.`,
      wayOut: "Correct the crop, or name another lot.",
    });
  };
  season.plantings.forEach((planting, i) =>
    compare(["plantings", i, "lotId"], planting.crop, planting.lotId)
  );
  season.lots.forEach((lot, i) =>
    lot.parents.forEach((parent, j) => {
      if (parent.kind === "lot") compare(["lots", i, "parents", j, "lotId"], lot.crop, parent.lotId);
    })
  );
  season.records.mixes.forEach((mix, i) =>
    mix.parents.forEach((parent, j) => {
      const crop = cropOf.get(mix.intoLotId);
      if (crop !== undefined) compare(["records", "mixes", i, "parents", j, "lotId"], crop, parent.lotId);
    })
  );
}
