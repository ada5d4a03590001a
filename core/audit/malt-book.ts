/** Batches in the malt store, replayed: malt made, bought and lying there, bagged raw grain too, and what is taken of it. */
import { dateOf, dayNumber } from "../calendar.ts";
import type { PlanBrew, PlanDrum } from "../plan/plan.ts";
import type { SupplyOffer } from "../season/brewing.ts";
import { maltDeliveries } from "../season/malt-deliveries.ts";
import type { MaltType } from "../season/malthouse.ts";
import type { Batch } from "../season/records.ts";
import { instant } from "../zone.ts";
import type { Ground } from "./context.ts";
import { donPpm, holdsTreatedSeed, RAW_DON_PPM_MOST } from "./lot-clock.ts";

/** A weight taken from a batch on a day; negative for a count that found more. */
export interface Taking {
  readonly day: number;
  readonly massG: number;
  readonly planned: boolean;
  /** Id of the brew, drum or contract it goes to, and what kind that is. */
  readonly into: string;
  readonly kind: "brew" | "drum" | "contract" | "count";
}

/** A batch with everything that is known about it. Days are day numbers. */
export interface BatchView {
  readonly id: string;
  readonly ingredient: Batch["ingredient"];
  readonly massG: number;
  readonly arriveDay: number;
  readonly readyDay: number;
  readonly bestDay: number;
  readonly extractAsIs: number;
  readonly home: boolean;
  /** Lots it was made from, by their shares of the clean weight; empty when unknown or bought. */
  readonly shares: readonly { readonly lotId: string; readonly share: number }[];
  /** Held malt stands in the store and may not be used; nor may malt of a lot that has failed since. */
  readonly held: boolean;
  /** Moisture, only to close the dry matter: what went in and what goes out are counted alike. */
  readonly moistureWb: number;
  readonly takings: Taking[];
}

export interface MaltBook {
  readonly batches: ReadonlyMap<string, BatchView>;
}

/** Moisture of bagged raw grain, for the dry matter sums only; the same figure goes in and out. */
const BAGGED_GRAIN_MOISTURE_WB = 0.12;

/** Grams of a batch in the store at the end of a day; less than nothing when more is taken than came. */
export function batchG(batch: BatchView, day: number): number {
  return (batch.arriveDay <= day ? batch.massG : 0) - takenG(batch, day);
}

/** Grams taken of a batch by the end of a day. */
export function takenG(batch: BatchView, day: number): number {
  return batch.takings.reduce((sum, taking) => taking.day <= day ? sum + taking.massG : sum, 0);
}

type Shares = BatchView["shares"];
type Keep = (batch: Omit<BatchView, "takings">) => void;

function sharesOf(draws: readonly { lotId: string; massG: number }[]): Shares {
  const total = draws.reduce((sum, draw) => sum + draw.massG, 0);
  return draws.map((draw) => ({
    lotId: draw.lotId,
    share: total > 0 ? draw.massG / total : 1 / draws.length,
  }));
}

function extractOfMalt(ground: Ground, malt: MaltType, shares: Shares): number {
  const dryBasis = shares.length === 0 ? malt.extractCoarseDb : shares.reduce(
    (sum, { lotId, share }) => sum + share * (ground.lots.get(lotId)?.maltExtractDb ?? malt.extractCoarseDb),
    0,
  );
  return dryBasis * (1 - malt.maltMoistureWb);
}

function moistureOf(ground: Ground, ingredient: Batch["ingredient"]): number {
  return ingredient.kind === "malt"
    ? ground.malts.get(ingredient.maltId)?.maltMoistureWb ?? 0
    : BAGGED_GRAIN_MOISTURE_WB;
}

/** True when a lot that malt was made from, or anything in it, has failed for that malt since. */
function failed(ground: Ground, malt: MaltType | undefined, lotIds: readonly string[]): boolean {
  const most = malt?.made.from === "grain" ? malt.made.acceptance.donPpmMost : RAW_DON_PPM_MOST;
  return lotIds.some((lotId) => (donPpm(ground, lotId) ?? 0) > most || holdsTreatedSeed(ground, lotId));
}

function keepOpening(ground: Ground, keep: Keep): void {
  const arriveDay = dayNumber(dateOf(ground.season.positionAt));
  for (const batch of ground.season.opening.malt) {
    keep({
      id: batch.id,
      ingredient: batch.ingredient,
      massG: batch.massG,
      arriveDay,
      readyDay: dayNumber(batch.readyOn),
      bestDay: dayNumber(batch.bestBefore),
      extractAsIs: batch.extractAsIs,
      home: batch.home,
      shares: batch.lotIds.map((lotId) => ({ lotId, share: 1 / batch.lotIds.length })),
      held: failed(
        ground,
        batch.ingredient.kind === "malt" ? ground.malts.get(batch.ingredient.maltId) : undefined,
        batch.lotIds,
      ),
      moistureWb: moistureOf(ground, batch.ingredient),
    });
  }
}

interface Output {
  readonly batchId: string;
  readonly maltId: string;
  readonly massG: number;
}

function keepOutput(
  ground: Ground,
  keep: Keep,
  output: Output,
  stripDay: number,
  shares: Shares,
  runMalt: MaltType | undefined,
  held: boolean,
): void {
  const malt = ground.malts.get(output.maltId);
  if (malt === undefined) return;
  keep({
    id: output.batchId,
    ingredient: { kind: "malt", maltId: malt.id },
    massG: output.massG,
    arriveDay: stripDay,
    readyDay: stripDay + malt.restDays,
    bestDay: stripDay + malt.shelfLifeDays,
    extractAsIs: extractOfMalt(ground, malt, shares),
    home: shares.every(({ lotId }) => ground.lots.get(lotId)?.origin === "own"),
    shares,
    held: held || failed(ground, runMalt, shares.map(({ lotId }) => lotId)),
    moistureWb: (runMalt ?? malt).maltMoistureWb,
  });
}

function keepRuns(ground: Ground, keep: Keep): void {
  for (const run of ground.season.records.runs) {
    if (run.stripAt === undefined || ground.underWay.has(run.id)) continue;
    // What was stripped before the opening position is part of it; malt that went to feed or waste is not in the store.
    const gone = run.outcome === "feed" || run.outcome === "dumped";
    if (gone || instant(ground.zone, run.stripAt) < ground.positionAt) continue;
    const day = dayNumber(dateOf(run.stripAt)), shares = sharesOf(run.draws);
    for (const output of run.outputs) {
      const runMalt = ground.malts.get(run.maltId);
      keepOutput(ground, keep, output, day, shares, runMalt, run.outcome === "held");
    }
  }
  for (const { run, day, malt } of ground.runs) {
    const shares = sharesOf(run.draws);
    for (const output of run.outputs) keepOutput(ground, keep, output, day.strip, shares, malt, false);
  }
}

function keepOrder(
  ground: Ground,
  keep: Keep,
  offer: SupplyOffer | undefined,
  batchId: string,
  arriveDay: number,
  massG: number,
): void {
  if (offer === undefined) return;
  const { ingredient } = offer;
  keep({
    id: batchId,
    ingredient: ingredient.kind === "malt" ? ingredient : { kind: "grain", crop: ingredient.crop },
    massG,
    arriveDay,
    readyDay: arriveDay,
    bestDay: arriveDay + offer.shelfLifeDays,
    extractAsIs: offer.extractAsIs,
    home: false,
    shares: [],
    held: false,
    moistureWb: moistureOf(ground, ingredient),
  });
}

function keepOrders(ground: Ground, keep: Keep): void {
  const positionDay = dayNumber(dateOf(ground.season.positionAt));
  for (const order of ground.season.records.orders) {
    const offer = ground.offers.get(order.offerId), day = dayNumber(order.arrivesOn);
    if (day >= positionDay) {
      keepOrder(ground, keep, offer, order.batchId, day, order.packs * (offer?.packG ?? 0));
    }
  }
  for (const order of ground.plan.orders) {
    if (ground.recordedOrders.has(order.id)) continue;
    const offer = ground.offers.get(order.offerId);
    keepOrder(ground, keep, offer, order.batchId, dayNumber(order.arrivesOn), order.massG);
  }
}

function keepDrum(
  ground: Ground,
  keep: Keep,
  drum: PlanDrum,
  batches: ReadonlyMap<string, BatchView>,
): void {
  const malt = ground.malts.get(drum.maltId);
  if (malt === undefined) return;
  const day = dayNumber(drum.on), from = drum.from.map((item) => batches.get(item.batchId));
  const total = drum.from.reduce((sum, item) => sum + item.massG, 0);
  const shares = drum.from.flatMap((item, place) =>
    (from[place]?.shares ?? []).map(({ lotId, share }) => ({
      lotId,
      share: total > 0 ? share * item.massG / total : 0,
    }))
  );
  keep({
    id: drum.batchId,
    ingredient: { kind: "malt", maltId: malt.id },
    massG: drum.massG,
    arriveDay: day,
    readyDay: day + malt.restDays,
    bestDay: day + malt.shelfLifeDays,
    extractAsIs: extractOfMalt(ground, malt, []),
    home: from.every((batch) => batch?.home === true),
    shares,
    held: false,
    moistureWb: malt.maltMoistureWb,
  });
}

/** What the records leave below nothing of a batch at as-of is nothing from then on: their takings count for so much less. */
function forgive({ massG, takings }: BatchView, asOfDay: number): void {
  let missingG = takings.reduce((sum, taking) => taking.day <= asOfDay ? sum + taking.massG : sum, -massG);
  for (let place = takings.length - 1; place >= 0 && missingG > 0; place--) {
    const taking = takings[place]!;
    if (taking.day > asOfDay || taking.massG <= 0) continue;
    const forgivenG = Math.min(missingG, taking.massG);
    takings[place] = { ...taking, massG: taking.massG - forgivenG };
    missingG -= forgivenG;
  }
}

/** Part of a malt delivery. */
interface Portion {
  readonly batchId: string;
  readonly massG: number;
}

/** Replays everything. Where an id was used twice the first batch stands; the second use is a breach of its own. */
export function maltBook(ground: Ground): MaltBook {
  const batches = new Map<string, BatchView>();
  const keep: Keep = (batch) => {
    if (!batches.has(batch.id)) batches.set(batch.id, { ...batch, takings: [] });
  };
  const take = (batchId: string, taking: Taking) => {
    batches.get(batchId)?.takings.push(taking);
  };
  keepOpening(ground, keep);
  keepRuns(ground, keep);
  keepOrders(ground, keep);
  const drums = [...ground.plan.drums].sort((a, b) => dayNumber(a.on) - dayNumber(b.on));
  for (const drum of drums) keepDrum(ground, keep, drum, batches);

  const { records } = ground.season, positionDay = dayNumber(dateOf(ground.season.positionAt));
  // What was counted, brewed or delivered before the opening position was taken is in its stocks.
  const isSince = ({ on }: { on: string }) => dayNumber(on) >= positionDay;
  for (const { on, batchId, deltaG, id } of records.adjustments.filter(isSince)) {
    if (batchId !== undefined) {
      take(batchId, { day: dayNumber(on), massG: -deltaG, planned: false, into: id, kind: "count" });
    }
  }
  const brewed = ({ on, grist }: Pick<PlanBrew, "on" | "grist">, into: string, planned: boolean) => {
    for (const { from, massG } of grist) {
      if (from.kind === "batch") {
        take(from.batchId, { day: dayNumber(on), massG, planned, into, kind: "brew" });
      }
    }
  };
  for (const brew of records.brews.filter(isSince)) brewed(brew, brew.brewId, false);
  const sold = (contractId: string, on: string, from: readonly Portion[], planned: boolean) => {
    for (const { batchId, massG } of from) {
      take(batchId, { day: dayNumber(on), massG, planned, into: contractId, kind: "contract" });
    }
  };
  for (const one of maltDeliveries(ground.season).filter(isSince)) sold(one.contractId, one.on, [one], false);
  batches.forEach((batch) => forgive(batch, ground.asOfDay));
  for (const brew of ground.plan.brews) brewed(brew, brew.id, true);
  for (const drum of drums) {
    for (const { batchId, massG } of drum.from) {
      take(batchId, { day: dayNumber(drum.on), massG, planned: true, into: drum.id, kind: "drum" });
    }
  }
  for (const { contractId, on, from } of ground.plan.maltDeliveries) sold(contractId, on, from, true);
  return { batches };
}
