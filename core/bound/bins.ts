import type { Problem } from "../search/problem.ts";
import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import type { GrainColumns } from "./grain.ts";
import type { RunColumns } from "./runs.ts";

/**
 * Room for grain, all stores as one heap: on every day on which grain comes, what lies there by then, less what can have left by its end, is no more than
 * all stores hold together. What finds no room is left out and brings nothing. Which lot lies where, and moves, are left open.
 */
export function addBins(
  model: LinearModel,
  problem: Problem,
  grain: GrainColumns,
  runs: readonly RunColumns[],
): void {
  const largest = problem.stores.reduce<Problem["stores"][number] | null>(
    (most, store) => most === null || roomG(store, 0) > roomG(most, 0) ? store : most,
    null,
  );
  if (!largest) return;
  // Volumes are counted in the largest store.
  const perT = problem.lots.map((lot) => G_PER_TONNE / Math.max(1, roomG(largest, lot.index)));
  const all = problem.stores.reduce((sum, store) => sum + volumeOf(store, largest, problem, perT), 0);
  const left = problem.fills.map(({ lot, massG }) => {
    const most = Math.min(massG / G_PER_TONNE, grain.freeT[lot] ?? 0);
    const column = model.column(grain.worth[lot] ?? 0, 0, most);
    if (most > 0) (grain.rest[lot] as number[]).push(column);
    return column;
  });
  for (const day of new Set(problem.fills.map((fill) => fill.day))) {
    const entries: [number, number][] = [];
    let used = 0;
    problem.fills.forEach((fill, place) => {
      if (fill.day > day) return;
      used += fill.massG / G_PER_TONNE * (perT[fill.lot] as number);
      entries.push([left[place] as number, -(perT[fill.lot] as number)]);
    });
    for (const lot of problem.lots) {
      const heldT = lot.stock.reduce((sum, one) => sum + one.massG, 0) / G_PER_TONNE;
      // What is firm or booked may have gone already.
      const goneT = lot.totalG / G_PER_TONNE - (grain.freeT[lot.index] as number);
      used += (heldT - goneT) * (perT[lot.index] as number);
      for (const { column, from } of grain.leaves[lot.index] as GrainColumns["leaves"][number]) {
        if (from <= day) entries.push([column, -(perT[lot.index] as number)]);
      }
    }
    for (const run of runs) {
      if (run.firstDay > day) continue;
      run.draws.forEach((column, place) => {
        if (column >= 0) entries.push([column, -(perT[run.lots[place] as number] as number)]);
      });
    }
    model.row(-Infinity, all - used, entries);
  }
}

/** Most grams of a lot in a store. */
function roomG(store: Problem["stores"][number], lot: number): number {
  return (store.capacityG[lot] ?? 0) * Math.max(1, store.bags);
}

/** Volume of a store, or of what lies in it already if that is more, counted in the largest; a gram of room for rounding. */
function volumeOf(
  store: Problem["stores"][number],
  largest: Problem["stores"][number],
  problem: Problem,
  perT: readonly number[],
): number {
  const room = (roomG(store, 0) + Math.max(1, store.bags)) / Math.max(1, roomG(largest, 0));
  const lying = problem.lots.reduce(
    (sum, lot) =>
      sum +
      lot.stock.reduce((mass, one) => one.store === store.index ? mass + one.massG : mass, 0) / G_PER_TONNE *
        (perT[lot.index] as number),
    0,
  );
  return Math.max(room, lying) + 1e-6;
}
