import { homeExtractAsIs } from "../book/book.ts";
import { dateOf, dayNumber } from "../calendar.ts";
import type { Plan } from "../plan/plan.ts";
import { maltIsLocked } from "../season/lock.ts";
import { bookExtractAsIs } from "../season/need.ts";
import type { Batch } from "../season/records.ts";
import type { Season } from "../season/season.ts";
import type { OrderFact } from "./journal.ts";
import type { RunFact } from "./journal-runs.ts";

/** A batch of malt or bagged grain. */
export interface BatchFact {
  readonly id: string;
  /** `malt:` and the malt's id, or `grain:` and the crop. */
  readonly key: string;
  readonly massG: number;
  /** Day on which it comes into the store; `firstDay` for what lay there at the opening. */
  readonly inDay: number;
  /** Day stripped or received. */
  readonly madeDay: number;
  /** Infinity for malt that is held, or of which a lot has failed since: it is not ready on any day. */
  readonly readyDay: number;
  readonly lastDay: number;
  readonly home: boolean;
  /** Some of its grain is not harvested yet. */
  readonly forecast: boolean;
  readonly extractAsIs: number;
  readonly source: "opening" | "run" | "drum" | "order";
  readonly sourceId: string;
  readonly lotIds: readonly string[];
}

/** The row of the malt band that a grist ingredient or a batch belongs to. */
export function ingredientKey(
  ingredient: { kind: "malt"; maltId: string } | { kind: "grain"; crop: string },
): string {
  return ingredient.kind === "malt" ? `malt:${ingredient.maltId}` : `grain:${ingredient.crop}`;
}

/** Every batch by its id: in store at the opening, stripped, roasted and bought. */
export function batchesOf(
  season: Season,
  plan: Plan | null,
  runs: readonly RunFact[],
  orders: readonly OrderFact[],
): Map<string, BatchFact> {
  const batches = new Map<string, BatchFact>();
  const put = (batch: BatchFact) => {
    if (!batches.has(batch.id)) batches.set(batch.id, batch);
  };
  openingBatches(season).forEach(put);
  for (const run of runs) runBatches(season, run).forEach(put);
  for (const order of orders) orderBatch(season, order).forEach(put);
  for (const drum of plan?.drums ?? []) {
    const from = drum.from.flatMap((one) => batches.get(one.batchId) ?? []);
    put({
      id: drum.batchId,
      key: `malt:${drum.maltId}`,
      massG: drum.massG,
      inDay: dayNumber(drum.on),
      madeDay: dayNumber(drum.on),
      readyDay: dayNumber(drum.readyOn),
      lastDay: dayNumber(drum.bestBefore),
      home: from.length > 0 && from.every((one) => one.home),
      forecast: from.some((one) => one.forecast),
      extractAsIs: bookExtractAsIs(season, { kind: "malt", maltId: drum.maltId }),
      source: "drum",
      sourceId: drum.id,
      lotIds: [...new Set(from.flatMap((one) => one.lotIds))],
    });
  }
  return batches;
}

function openingBatches(season: Season): BatchFact[] {
  const inDay = dayNumber(dateOf(season.positionAt));
  const maltOf = ({ ingredient }: Batch) => ingredient.kind === "malt" ? ingredient.maltId : null;
  return season.opening.malt.map((one) => ({
    id: one.id,
    key: ingredientKey(one.ingredient),
    massG: one.massG,
    inDay,
    madeDay: dayNumber(one.madeOn),
    readyDay: maltIsLocked(season, maltOf(one), one.lotIds) ? Infinity : dayNumber(one.readyOn),
    lastDay: dayNumber(one.bestBefore),
    home: one.home,
    forecast: false,
    extractAsIs: one.extractAsIs,
    source: "opening",
    sourceId: one.id,
    lotIds: one.lotIds,
  }));
}

function runBatches(season: Season, run: RunFact): BatchFact[] {
  if (!run.stripsAfterOpening) return [];
  const lots = run.draws.flatMap((draw) => season.lots.find((lot) => lot.id === draw.lotId) ?? []);
  return run.outputs.map((one) => ({
    id: one.batchId,
    key: `malt:${one.maltId}`,
    massG: one.massG,
    inDay: dayNumber(dateOf(run.endAt)),
    madeDay: dayNumber(dateOf(run.endAt)),
    readyDay: one.readyDay,
    lastDay: one.lastDay,
    home: lots.length === run.draws.length && lots.every((lot) => lot.origin === "own"),
    forecast: lots.some((lot) => lot.forecast),
    extractAsIs: homeExtractAsIs(season, one.maltId, run.draws),
    source: "run",
    sourceId: run.id,
    lotIds: lots.map((lot) => lot.id),
  }));
}

function orderBatch(season: Season, order: OrderFact): BatchFact[] {
  const offer = season.supplyOffers.find((one) => one.id === order.offerId);
  // What came before the opening position is in its stocks.
  if (offer === undefined || order.arriveDay < dayNumber(dateOf(season.positionAt))) return [];
  return [{
    id: order.batchId,
    key: ingredientKey(offer.ingredient),
    massG: order.massG,
    inDay: order.arriveDay,
    madeDay: order.arriveDay,
    readyDay: order.arriveDay,
    lastDay: order.arriveDay + offer.shelfLifeDays,
    home: false,
    forecast: false,
    extractAsIs: offer.extractAsIs,
    source: "order",
    sourceId: order.id,
    lotIds: [],
  }];
}
