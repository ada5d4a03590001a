import { dayNumber, weekday } from "../../../core/calendar.ts";
import type { FeedPickup } from "../../../core/season/brewing.ts";
import type { LinearModel } from "../../../core/solve/linear.ts";
import type { RunColumns, Term } from "./batches.ts";
import type { Heap } from "./granary.ts";
import type { Ground } from "./ground.ts";
import { addPairs } from "./pair-rows.ts";

/** Kilograms of a lot that leave a store on a day. */
export interface Taking {
  readonly lotId: string;
  readonly storeId: string;
  readonly day: number;
  readonly column: number;
}

/** One feed load on one day: whether it is fetched, and what it holds. */
export interface FeedColumns {
  readonly pickup: FeedPickup;
  readonly day: number;
  readonly fetched: number;
  readonly items: readonly Taking[];
}

/** All there is of a lot in a store goes to another, so that grain that comes finds the store empty. */
export interface MoveColumns {
  readonly lotId: string;
  readonly fromStoreId: string;
  readonly toStoreId: string;
  readonly day: number;
  readonly made: number;
  readonly column: number;
}

export interface GrainColumns {
  readonly feed: readonly FeedColumns[];
  readonly seed: readonly (Taking & { readonly reserveId: string })[];
  readonly moves: readonly MoveColumns[];
  /** Kilograms of the lot that comes, by store. */
  readonly fills: readonly Taking[];
  /** Money of doing nothing, in whole currency units. */
  readonly baseMoney: number;
}

/**
 * Adds all that can become of grain beside malt. Bins change their lot only when grain comes, which gives each thing its best day: a move is
 * never worse on the last day on which its store must be clear, since the other bin has only become emptier; a feed load is never worse on
 * the pick-up's first day, unless it takes of the grain that comes. `addGrainDayByDay` takes none of this for granted.
 */
export function addGrain(model: LinearModel, ground: Ground, runs: readonly RunColumns[]): GrainColumns {
  const { bins, heaps } = ground;
  const clear = new Map(
    bins.map((bin) => [bin.storeId, model.column(0, 0, bin.clearDay === null ? 0 : 1, true)]),
  );
  const feed = addFeed(model, ground);
  const seed = addSeed(model, ground, (heap) => heap.storeIds);
  const drawn = runs.flatMap(({ option, draws }) => draws.map((draw) => ({ ...draw, day: option.startDay })));
  const takings: Taking[] = [...drawn, ...feed.flatMap((load) => load.items), ...seed];
  const moves: MoveColumns[] = [], fills: Taking[] = [];
  let worth = 0;
  for (const heap of heaps.values()) {
    const price = ground.endCentsPerKg.get(heap.lotId)! / 100;
    const mine = takings.filter((taking) => taking.lotId === heap.lotId);
    for (const { column } of mine) model.cost[column]! += price;
    if (heap.coming === null) {
      worth += price * [...heap.layKg.values()].reduce((sum, one) => sum + one, 0);
      moves.push(...addLying(model, ground, heap, mine, clear));
    } else {
      fills.push(...addComing(model, ground, heap, mine, clear));
    }
  }
  addPairs(model, ground, runs, { takings, moves, fills });
  return { feed, seed, moves, fills, baseMoney: -worth };
}

/** Every pick-up's loads, each on any day that may be its best. */
function addFeed(model: LinearModel, { season, ctx, heaps }: Ground): FeedColumns[] {
  return season.feedPickups.flatMap((pickup) => {
    const days: number[] = [];
    for (let day = Math.max(dayNumber(pickup.from), ctx.firstFreeDay); day <= dayNumber(pickup.to); day++) {
      if (pickup.weekdays.includes(weekday(day))) days.push(day);
    }
    const comes = Math.min(...[...heaps.values()].map((heap) => heap.coming?.day ?? Infinity));
    const loads = days.filter((day, place) => place === 0 || day >= comes).flatMap((day) =>
      Array.from({ length: pickup.mostLoads }, () => {
        const fetched = model.column(pickup.haulageCents / 100, 0, 1, true);
        const items = [...heaps.values()].flatMap((heap) =>
          pickup.crops.includes(ctx.lots.get(heap.lotId)!.crop) && day >= (heap.coming?.day ?? -Infinity)
            ? heap.storeIds.map((storeId) => ({
              lotId: heap.lotId,
              storeId,
              day,
              column: model.column(-pickup.perTonneCents / 100 / 1000, 0, pickup.greatestG / 1000),
            }))
            : []
        );
        const terms = items.map(({ column }) => [column, 1] as const);
        model.row(0, Infinity, [...terms, [fetched, -pickup.leastG / 1000]]);
        model.row(-Infinity, 0, [...terms, [fetched, -pickup.greatestG / 1000]]);
        return { pickup, day, fetched, items };
      })
    );
    model.row(-Infinity, pickup.mostLoads, loads.map((load) => [load.fetched, 1]));
    return loads;
  });
}

/** Seed of each lot that keeps some, out of the stores that `storesOf` names. */
export function addSeed(
  model: LinearModel,
  { heaps }: Ground,
  storesOf: (heap: Heap) => readonly string[],
): GrainColumns["seed"] {
  return [...heaps.values()].flatMap((heap) => {
    const { lotId, seed } = heap;
    if (seed === null) return [];
    const { reserveId, day, massKg } = seed;
    const parts = storesOf(heap).map((storeId) => ({
      lotId,
      storeId,
      day,
      reserveId,
      column: model.column(0, 0, massKg),
    }));
    model.row(massKg, massKg, parts.map(({ column }) => [column, 1]));
    return parts;
  });
}

/** Terms of what leaves a store up to a day. */
function leaving(takings: readonly Taking[], storeId: string, day: number, by = 1): Term[] {
  return takings.filter((one) => one.storeId === storeId && one.day <= day).map(({ column }) => [column, by]);
}

/** A lot that lies there: what it gives, and its moves out of bins that must be clear. */
function addLying(
  model: LinearModel,
  { season, ctx, bins, endCentsPerKg }: Ground,
  { lotId, layKg }: Heap,
  takings: readonly Taking[],
  clear: ReadonlyMap<string, number>,
): MoveColumns[] {
  const { moveCents, movePerTonneCents, moveLoss } = season.costs;
  const perKg = movePerTonneCents / 100 / 1000 + moveLoss * endCentsPerKg.get(lotId)! / 100;
  const allKg = [...layKg.values()].reduce((sum, one) => sum + one, 0);
  const moves: MoveColumns[] = bins.flatMap(({ storeId: fromStoreId, clearDay }) => {
    if (clearDay === null || clearDay < ctx.firstFreeDay || !layKg.has(fromStoreId)) return [];
    return bins.filter(({ storeId }) => storeId !== fromStoreId).map(({ storeId: toStoreId }) => {
      const made = model.column(moveCents / 100, 0, 1, true), column = model.column(perKg, 0, allKg);
      model.row(-Infinity, 0, [[column, 1], [made, -allKg]]);
      model.row(-Infinity, 0, [[made, 1], [clear.get(fromStoreId)!, -1]]);
      return { lotId, fromStoreId, toStoreId, day: clearDay, made, column };
    });
  });
  for (const { storeId, roomKg, clearDay } of bins) {
    const layHere = layKg.get(storeId) ?? 0;
    const into = moves.filter((move) => move.toStoreId === storeId);
    /** Terms of what has left by a day less what has come. */
    const gone = (day: number): Term[] => [
      ...leaving(takings, storeId, day),
      ...moves.filter((move) => move.fromStoreId === storeId && move.day <= day)
        .map(({ column }) => [column, 1] as const),
      ...into.filter((move) => move.day <= day).map(({ column }) => [column, moveLoss - 1] as const),
    ];
    for (const day of new Set([...into.map((move) => move.day - 1), Infinity])) {
      model.row(-Infinity, layHere, gone(day));
    }
    for (const { day, made } of into) {
      model.row(layHere - roomKg - allKg, Infinity, [...gone(day), [made, -allKg]]);
    }
    if (clearDay === null) continue;
    const empty = clear.get(storeId)!;
    // Of a store that is not cleared more may come than goes.
    model.row(-allKg, Infinity, [...gone(clearDay), [empty, -layHere - allKg]]);
    for (const { made } of into) model.row(-Infinity, 1, [[made, 1], [empty, 1]]);
  }
  return moves;
}

/** A lot that comes: into bins that are clear in time, the rest stays out. */
function addComing(
  model: LinearModel,
  { bins, endCentsPerKg }: Ground,
  { lotId, coming }: Heap,
  takings: readonly Taking[],
  clear: ReadonlyMap<string, number>,
): Taking[] {
  const { day, massKg } = coming!;
  const fills = bins.map(({ storeId, roomKg }) => {
    const column = model.column(-endCentsPerKg.get(lotId)! / 100, 0, massKg);
    model.row(-Infinity, 0, [[column, 1], [clear.get(storeId)!, -massKg]]);
    // What leaves again on the same day needs no room.
    model.row(-Infinity, roomKg, [[column, 1], ...leaving(takings, storeId, day, -1)]);
    model.row(-Infinity, 0, [...leaving(takings, storeId, Infinity), [column, -1]]);
    return { lotId, storeId, day, column };
  });
  model.row(-Infinity, massKg, fills.map(({ column }) => [column, 1]));
  return fills;
}
