import type { Problem } from "../search/problem.ts";
import { dateBrews } from "../search/dates.ts";
import { type TankBoard, tankBoard } from "../search/tanks.ts";
import type { LinearModel } from "../solve/linear.ts";
import type { DemandColumns } from "./brews.ts";

/**
 * Tanks and the brewhouse, only where not all brews can be dated: a brew made lies on one of its days; on no day are more tanks taken than
 * there are, or more brews made than the brewhouse makes. Which tank a brew goes into is left open.
 */
export function addCellar(model: LinearModel, problem: Problem, demands: readonly DemandColumns[]): void {
  const board = tankBoard(problem);
  const brews = demands.filter(({ demand }) => demand.kind === "brew" && demand.days.length > 0);
  const dated = dateBrews(problem, board).day;
  if (brews.every(({ demand }) => (dated[demand.index] as number) >= 0)) return;
  const turnaround = Math.min(...board.turnaround);
  const largestL = Math.max(0, ...board.volumeL);
  const byDay = new Map<number, [number, number][]>();
  const taken = new Map<number, [number, number][]>();
  const put = (of: Map<number, [number, number][]>, day: number, column: number, count: number) =>
    of.set(day, [...of.get(day) ?? [], [column, count]]);
  for (const { demand, made } of brews) {
    const choices = demand.days.map((day) => ({ day, column: model.column(0, 0, 1) }));
    model.row(0, 0, [[made, -1], ...choices.map(({ column }): [number, number] => [column, 1])]);
    for (const { day, column } of choices) {
      put(byDay, day, column, 1);
      const tanks = demand.volumeL > largestL + 1e-3 ? 2 : 1;
      for (let on = day; on < day + demand.tankDays + turnaround; on++) put(taken, on, column, tanks);
    }
  }
  for (const entries of byDay.values()) model.row(-Infinity, problem.season.brewhouse.brewsPerDay, entries);
  for (const [day, entries] of taken) {
    const open = openTanks(board, day);
    if (entries.length > open) model.row(-Infinity, open, entries);
  }
}

/** Tanks that are neither closed nor still taken by recorded beer on a day. */
function openTanks({ ids, freeDay, closed }: TankBoard, day: number): number {
  return ids.filter((_, tank) =>
    (freeDay[tank] as number) <= day && !closed[tank]?.some(([from, to]) => from <= day && day < to)
  ).length;
}
