import { dayNumber, weekday } from "../../../core/calendar.ts";
import type { LinearModel } from "../../../core/solve/linear.ts";
import type { RunColumns, Term } from "./batches.ts";
import type { BinRoom, Heap } from "./granary.ts";
import { addSeed, type FeedColumns, type GrainColumns, type MoveColumns, type Taking } from "./grain-rows.ts";
import type { Ground } from "./ground.ts";
import { addPairs, type Flows } from "./pair-rows.ts";

/**
 * The same as `addGrain`, rule by rule and without a thought about what is worth doing: any lot may be moved from any bin to any other on any
 * day, in parts and back again, and fed on any day of a pick-up. Too slow to judge seasons with; it shows that the thoughts hold.
 */
export function addGrainDayByDay(
  model: LinearModel,
  ground: Ground,
  runs: readonly RunColumns[],
): GrainColumns {
  const { ctx, bins } = ground;
  const heaps = [...ground.heaps.values()];
  const feed = addFeed(model, ground, heaps);
  const seed = addSeed(model, ground, () => bins.map((bin) => bin.storeId));
  const drawn = runs.flatMap(({ option, draws }) => draws.map((draw) => ({ ...draw, day: option.startDay })));
  const takings = [...drawn, ...feed.flatMap((load) => load.items), ...seed];
  const lastDay = Math.max(...takings.map(({ day }) => day), ...heaps.map(({ coming }) => coming?.day ?? 0));
  const days = Array.from({ length: lastDay + 2 - ctx.firstFreeDay }, (_, place) => ctx.firstFreeDay + place);
  const fills = heaps.flatMap((heap) => addFills(model, ground, heap));
  const moves = heaps.flatMap((heap) => addMoves(model, ground, heap, days));
  const flows = { takings, moves, fills };
  const books = heaps.flatMap((heap) => bins.map((bin) => addBook(model, ground, heap, bin, days, flows)));
  for (const book of books) {
    for (const other of books) {
      if (other.bin === book.bin && other !== book) keepApart(model, ground, book, other, days);
    }
  }
  addPairs(model, ground, runs, flows);
  let worth = 0;
  for (const { lotId, layKg } of heaps) {
    const price = ground.endCentsPerKg.get(lotId)! / 100;
    for (const one of takings.filter((taking) => taking.lotId === lotId)) model.cost[one.column]! += price;
    worth += price * [...layKg.values()].reduce((sum, one) => sum + one, 0);
  }
  return { feed, seed, moves, fills, baseMoney: -worth };
}

/** One lot in one bin: what lies there at each day's end, and whether some was put in. */
interface Book {
  readonly bin: BinRoom;
  readonly layKg: number;
  readonly allKg: number;
  readonly stock: ReadonlyMap<number, number>;
  readonly entered: ReadonlyMap<number, number>;
}

function allOf({ layKg, coming }: Heap): number {
  return [...layKg.values()].reduce((sum, one) => sum + one, coming?.massKg ?? 0);
}

function addFeed(model: LinearModel, { season, ctx, bins }: Ground, heaps: readonly Heap[]): FeedColumns[] {
  return season.feedPickups.flatMap((pickup) => {
    const loads: FeedColumns[] = [];
    for (let day = Math.max(dayNumber(pickup.from), ctx.firstFreeDay); day <= dayNumber(pickup.to); day++) {
      for (let load = 0; load < pickup.mostLoads && pickup.weekdays.includes(weekday(day)); load++) {
        const fetched = model.column(pickup.haulageCents / 100, 0, 1, true);
        const items = heaps.filter(({ lotId }) => pickup.crops.includes(ctx.lots.get(lotId)!.crop))
          .flatMap(({ lotId }) =>
            bins.map(({ storeId }) => ({
              lotId,
              storeId,
              day,
              column: model.column(-pickup.perTonneCents / 1e5, 0, pickup.greatestG / 1000),
            }))
          );
        const terms = items.map(({ column }) => [column, 1] as const);
        model.row(0, Infinity, [...terms, [fetched, -pickup.leastG / 1000]]);
        model.row(-Infinity, 0, [...terms, [fetched, -pickup.greatestG / 1000]]);
        loads.push({ pickup, day, fetched, items });
      }
    }
    model.row(-Infinity, pickup.mostLoads, loads.map(({ fetched }) => [fetched, 1]));
    return loads;
  });
}

function addFills(model: LinearModel, { bins, endCentsPerKg }: Ground, { lotId, coming }: Heap): Taking[] {
  if (coming === null) return [];
  const fills = bins.map(({ storeId }) => ({
    lotId,
    storeId,
    day: coming.day,
    column: model.column(-endCentsPerKg.get(lotId)! / 100, 0, coming.massKg),
  }));
  model.row(-Infinity, coming.massKg, fills.map(({ column }) => [column, 1]));
  return fills;
}

function addMoves(
  model: LinearModel,
  { season, bins, endCentsPerKg }: Ground,
  heap: Heap,
  days: readonly number[],
): MoveColumns[] {
  const { moveCents, movePerTonneCents, moveLoss } = season.costs, { lotId } = heap, allKg = allOf(heap);
  const perKg = movePerTonneCents / 1e5 + moveLoss * endCentsPerKg.get(lotId)! / 100;
  return days.flatMap((day) =>
    bins.flatMap(({ storeId: fromStoreId }) =>
      bins.filter(({ storeId }) => storeId !== fromStoreId).map(({ storeId: toStoreId }) => {
        const made = model.column(moveCents / 100, 0, 1, true), column = model.column(perKg, 0, allKg);
        model.row(-Infinity, 0, [[column, 1], [made, -allKg]]);
        return { lotId, fromStoreId, toStoreId, day, made, column };
      })
    )
  );
}

/** What lies there each evening: never less than nothing, and within the bin's room on days on which some is put in. */
function addBook(
  model: LinearModel,
  { season }: Ground,
  heap: Heap,
  bin: BinRoom,
  days: readonly number[],
  { takings, moves, fills }: Flows,
): Book {
  const allKg = allOf(heap), layKg = heap.layKg.get(bin.storeId) ?? 0;
  const stock = new Map<number, number>(), entered = new Map<number, number>();
  for (const day of days) {
    const here = <T extends Pick<Taking, "lotId" | "day" | "column">>(
      all: readonly T[],
      storeOf: (one: T) => string,
      by: number,
    ): Term[] =>
      all.filter((one) => one.lotId === heap.lotId && one.day === day && storeOf(one) === bin.storeId)
        .map(({ column }) => [column, by] as const);
    const into = [
      ...here(fills, (one) => one.storeId, 1),
      ...here(moves, (one) => one.toStoreId, 1 - season.costs.moveLoss),
    ];
    const out = [...here(takings, (one) => one.storeId, -1), ...here(moves, (one) => one.fromStoreId, -1)];
    const before = stock.get(day - 1),
      evening = model.column(0, 0, allKg),
      enters = model.column(0, 0, 1, true);
    const lay = before === undefined ? layKg : 0;
    const yesterday: Term[] = before === undefined ? [] : [[before, 1]];
    model.row(-lay, -lay, [...yesterday, ...into, ...out, [evening, -1]]);
    model.row(-Infinity, 0, [...into, [enters, -2 * allKg]]);
    model.row(-Infinity, bin.roomKg + allKg, [[evening, 1], [enters, allKg]]);
    stock.set(day, evening);
    entered.set(day, enters);
  }
  return { bin, layKg, allKg, stock, entered };
}

/** A lot enters only when the other has been gone for as many days as the bin stands empty. */
function keepApart(model: LinearModel, { season }: Ground, lot: Book, other: Book, days: readonly number[]) {
  const { turnaroundDays } = season.stores.find(({ id }) => id === lot.bin.storeId) as {
    turnaroundDays: number;
  };
  for (const day of days) {
    const enters = lot.entered.get(day)!;
    for (let past = day - turnaroundDays; past <= day; past++) {
      const there = other.stock.get(past);
      if (there === undefined) {
        if (other.layKg > 0) model.upper[enters] = 0;
        continue;
      }
      model.row(-Infinity, other.allKg, [[there, 1], [enters, other.allKg]]);
      // Put in and taken out on one day it still was there.
      if (past > day - turnaroundDays) model.row(-Infinity, 1, [[other.entered.get(past)!, 1], [enters, 1]]);
    }
  }
}
