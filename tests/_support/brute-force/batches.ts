import { dayNumber, isoDate, weekday } from "../../../core/calendar.ts";
import type { LinearModel } from "../../../core/solve/linear.ts";
import type { SupplyOffer } from "../../../core/season/brewing.ts";
import type { Ground } from "./ground.ts";
import { bestExtract, bestShares } from "./mixtures.ts";
import type { RunOption } from "./run-options.ts";

/** A term of a row: column and coefficient. */
export type Term = readonly [column: number, coefficient: number];

/** Malt that may be there: weight in kilograms = `fixedKg` + terms. */
export interface Batch {
  readonly maltId: string;
  readonly arriveDay: number;
  readonly readyDay: number;
  readonly bestDay: number;
  readonly extractAsIs: number;
  readonly home: boolean;
  /** The lots it descends from, each with the most of it that may be of that lot. */
  readonly lotShares: ReadonlyMap<string, number>;
  readonly fixedKg: number;
  readonly terms: readonly Term[];
  /** Batches of one group never exist side by side, so they share bag places. */
  readonly group: string;
}

export interface RunColumns {
  readonly option: RunOption;
  /** 1 when the run is made. */
  readonly made: number;
  /** Kilograms drawn from each lot of the option, by the store it may lie in. */
  readonly draws: readonly { readonly lotId: string; readonly storeId: string; readonly column: number }[];
}

export interface OrderColumns {
  readonly offer: SupplyOffer;
  readonly day: number;
  readonly placed: number;
  readonly packs: number;
}

/** Adds a run's columns and rows. Money is in whole currency units; nothing is asked of the lots' stock here. */
export function addRun(model: LinearModel, { heaps }: Ground, option: RunOption): RunColumns {
  const { made: how, leastKg, greatestKg, lotIds, firstShare: [leastShare, mostShare] } = option;
  const made = model.column((how.runCents + option.nightCents) / 100, 0, 1, true);
  const clean = 1 - how.screeningLoss;
  const perKg = how.perTonneCents / 100 / 1000 * clean;
  const draws = lotIds.flatMap((lotId) =>
    heaps.get(lotId)!.storeIds.map((storeId) => ({
      lotId,
      storeId,
      column: model.column(perKg, 0, greatestKg / clean),
    }))
  );
  const steeped = draws.map(({ column }) => [column, clean] as const);
  model.row(0, Infinity, [...steeped, [made, -leastKg]]);
  model.row(-Infinity, 0, [...steeped, [made, -greatestKg]]);
  const above = (share: number) =>
    draws.map(({ lotId, column }) => [column, (lotId === lotIds[0] ? 1 : 0) - share] as const);
  if (leastShare > 0 && lotIds.length > 1) model.row(0, Infinity, above(leastShare));
  if (mostShare < 1) model.row(-Infinity, 0, above(mostShare));
  return { option, made, draws };
}

/** The batch a run gives. */
export function runBatch({ ctx }: Ground, { option, draws }: RunColumns): Batch {
  const { malt, made: how, stripDay } = option;
  const kept = (1 - how.steepLossDm - how.respirationLossDm - how.rootletLossDm) / (1 - malt.maltMoistureWb);
  const lots = option.lotIds.map((id) => ctx.lots.get(id)!);
  return {
    maltId: malt.id,
    arriveDay: stripDay,
    readyDay: stripDay + malt.restDays,
    bestDay: stripDay + malt.shelfLifeDays,
    extractAsIs: bestExtract(option),
    home: lots.every((lot) => lot.origin === "own"),
    lotShares: bestShares(option),
    fixedKg: 0,
    terms: draws.map(({ lotId, column }) => [
      column,
      (1 - how.screeningLoss) * (1 - ctx.lots.get(lotId)!.moistureWb) * kept,
    ]),
    group: `start ${option.startDay}`,
  };
}

/** Adds every order that could be placed for delivery inside the horizon, each with the batch it brings. */
export function addOrders(
  model: LinearModel,
  { season, ctx }: Ground,
  mostKg: number,
): { orders: OrderColumns[]; batches: Batch[] } {
  const orders: OrderColumns[] = [], batches: Batch[] = [];
  for (const offer of season.supplyOffers) {
    if (offer.ingredient.kind !== "malt") continue;
    const packKg = offer.packG / 1000, mostPacks = Math.ceil(mostKg / packKg) + offer.leastPacks;
    const last = Math.min(dayNumber(offer.to), ctx.horizonEnd - offer.leadDays);
    for (let day = Math.max(dayNumber(offer.from), ctx.asOfDay); day <= last; day++) {
      if (!offer.orderWeekdays.includes(weekday(day))) continue;
      const placed = model.column(offer.freightCents / 100, 0, 1, true);
      const packs = model.column(offer.packCents / 100, 0, mostPacks, true);
      model.row(0, Infinity, [[packs, 1], [placed, -offer.leastPacks]]);
      model.row(-Infinity, 0, [[packs, 1], [placed, -mostPacks]]);
      orders.push({ offer, day, placed, packs });
      batches.push({
        maltId: offer.ingredient.maltId,
        arriveDay: day + offer.leadDays,
        readyDay: day + offer.leadDays,
        bestDay: day + offer.leadDays + offer.shelfLifeDays,
        extractAsIs: offer.extractAsIs,
        home: false,
        lotShares: new Map(),
        fixedKg: 0,
        terms: [[packs, packKg]],
        group: `${offer.id} ${isoDate(day)}`,
      });
    }
  }
  return { orders, batches };
}

/** Malt that lies in the store at as-of. */
export function openingBatches({ season, ctx }: Ground): Batch[] {
  return season.opening.malt.flatMap((batch) =>
    batch.ingredient.kind !== "malt" ? [] : [{
      maltId: batch.ingredient.maltId,
      arriveDay: ctx.asOfDay,
      readyDay: dayNumber(batch.readyOn),
      bestDay: dayNumber(batch.bestBefore),
      extractAsIs: batch.extractAsIs,
      home: batch.home,
      lotShares: new Map(batch.lotIds.map((lotId) => [lotId, 1 / batch.lotIds.length])),
      fixedKg: batch.massG / 1000,
      terms: [],
      group: batch.id,
    }]
  );
}
