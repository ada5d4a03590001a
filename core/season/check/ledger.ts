import { dateOf, dayNumber } from "../../calendar.ts";
import { plantingsToCome } from "../forecast.ts";
import { maltDeliveries } from "../malt-deliveries.ts";
import type { Season } from "../season.ts";
import { pastSeed } from "../seed.ts";
import { planEndDay } from "../tail.ts";
import type { Checking } from "./checking.ts";
import type { Path } from "./finding.ts";

/** What the book says about one lot in one store, or about one malt batch. Grams. */
export interface Account {
  readonly key: string;
  /** All that ever came in. */
  inG: number;
  /** What should be there now; below zero when more was used than came. */
  balanceG: number;
  /** The entry that took grain or malt out last. */
  lastUse: Path | undefined;
}

/** Balances as of now. Grain by lot and store, malt by batch. */
export interface Ledger {
  readonly grain: ReadonlyMap<string, Account & { readonly lotId: string; readonly storeId: string }>;
  readonly malt: ReadonlyMap<string, Account>;
}

/** Ids of the lots that are in store at as-of or come while the plan lasts; of the others nothing has to be said. */
export function liveLots(checking: Checking): ReadonlySet<string> {
  const { season } = checking, planEnd = planEndDay(season);
  const stored = [...ledger(checking).grain.values()].filter((account) => account.balanceG > 0);
  const coming = season.lots.filter((lot) => {
    const plantings = lot.forecast ? plantingsToCome(season, lot.id) : [];
    return lot.forecast &&
      !(plantings.length > 0 && plantings.every(({ harvest }) => dayNumber(harvest.likely) > planEnd));
  });
  return new Set([...stored.map((account) => account.lotId), ...coming.map((lot) => lot.id)]);
}

/** The book at as-of: opening position and every record, added up. Ids that lead nowhere get their own accounts. */
export function ledger({ season, today }: Checking): Ledger {
  const grain = new Map<string, Account & { lotId: string; storeId: string }>();
  const malt = new Map<string, Account>();
  const lot = (lotId: string, storeId: string) => {
    const key = `${lotId} in ${storeId}`;
    const account = grain.get(key) ?? { key, lotId, storeId, inG: 0, balanceG: 0, lastUse: undefined };
    grain.set(key, account);
    return account;
  };
  const batch = (id: string) => {
    const account = malt.get(id) ?? { key: id, inG: 0, balanceG: 0, lastUse: undefined };
    malt.set(id, account);
    return account;
  };
  bookGrain(season, today, lot, batch);
  bookMalt(season, today, batch);
  return { grain, malt };
}

function into(account: Account, massG: number): void {
  account.inG += massG;
  account.balanceG += massG;
}

function outOf(account: Account, massG: number, path: Path): void {
  account.balanceG -= massG;
  account.lastUse = path;
}

type LotAccount = (lotId: string, storeId: string) => Account;
type BatchAccount = (id: string) => Account;

function bookGrain(season: Season, today: number, lot: LotAccount, batch: BatchAccount): void {
  const { opening, records } = season;
  const opened = dateOf(season.positionAt);
  /** Records with their places, without those that are in the opening stocks because they are older. */
  const since = <T extends { readonly on: string }>(rows: readonly T[]) =>
    rows.map((row, i) => [row, i] as const).filter(([{ on }]) => on >= opened);
  opening.grain.forEach((row) => into(lot(row.lotId, row.storeId), row.massG));
  since(records.fills).forEach(([fill]) => into(lot(fill.lotId, fill.storeId), fill.massG));
  records.runs.forEach((run, i) => {
    // The opening stocks were counted without the grain of runs that were under way.
    if (run.steepInAt < season.positionAt) return;
    run.draws.forEach((draw, j) =>
      outOf(lot(draw.lotId, draw.storeId), draw.massG, ["records", "runs", i, "draws", j])
    );
  });
  since(records.moves).forEach(([move, i]) => {
    outOf(lot(move.lotId, move.fromStoreId), move.massG, ["records", "moves", i]);
    into(lot(move.lotId, move.toStoreId), move.massG - move.lossG);
  });
  since(records.mixes).forEach(([mix, i]) =>
    mix.parents.forEach((parent, j) => {
      outOf(lot(parent.lotId, parent.storeId), parent.massG, ["records", "mixes", i, "parents", j]);
      into(lot(mix.intoLotId, mix.storeId), parent.massG);
    })
  );
  since(records.feedLoads).forEach(([load, i]) =>
    load.items.forEach((item, j) =>
      outOf(lot(item.lotId, item.storeId), item.massG, ["records", "feedLoads", i, "items", j])
    )
  );
  since(records.deliveries).forEach(([row, i]) =>
    outOf(lot(row.lotId, row.storeId), row.massG, ["records", "deliveries", i])
  );
  since(records.brews).forEach(([brew, i]) =>
    brew.grist.forEach((use, j) => {
      const account = use.from.kind === "lot"
        ? lot(use.from.lotId, use.from.storeId)
        : batch(use.from.batchId);
      outOf(account, use.massG, ["records", "brews", i, "grist", j]);
    })
  );
  since(maltDeliveries(season)).forEach(([row, i]) =>
    outOf(batch(row.batchId), row.massG, ["records", "maltDeliveries", i])
  );
  since(records.adjustments).forEach(([row]) => {
    if (row.batchId !== undefined) batch(row.batchId).balanceG += row.deltaG;
    else if (row.lotId !== undefined && row.storeId !== undefined) {
      lot(row.lotId, row.storeId).balanceG += row.deltaG;
    }
  });
  takeSeed(season, today, lot);
}

/** Seed of days gone by. A lot that never lay anywhere is short of all of it, in the first store for want of a better. */
function takeSeed(season: Season, today: number, lot: LotAccount): void {
  const opened = dateOf(season.positionAt), parts = pastSeed(season, today);
  for (const [i, seed] of season.seedReserves.entries()) {
    const path = ["seedReserves", i];
    const taken = parts.filter((part) => part.reserveId === seed.id);
    taken.forEach((part) => outOf(lot(part.lotId, part.storeId), part.massG, path));
    const due = seed.on >= opened && dayNumber(seed.on) < today, [store] = season.stores;
    if (due && taken.length === 0 && store !== undefined) outOf(lot(seed.lotId, store.id), seed.massG, path);
  }
}

function bookMalt(season: Season, today: number, batch: BatchAccount): void {
  season.opening.malt.forEach((row) => into(batch(row.id), row.massG));
  const { positionAt } = season;
  for (const run of season.records.runs) {
    // Malt that was stripped, or had come, when the opening stocks were counted is in them.
    if (run.stripAt !== undefined && run.stripAt < positionAt) continue;
    run.outputs.forEach((output) => into(batch(output.batchId), output.massG));
  }
  for (const order of season.records.orders) {
    const offer = season.supplyOffers.find((one) => one.id === order.offerId);
    const came = order.arrivesOn >= dateOf(positionAt) && dayNumber(order.arrivesOn) <= today;
    if (offer !== undefined && came) {
      into(batch(order.batchId), order.packs * offer.packG);
    }
  }
}
