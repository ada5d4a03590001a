import type { LinearModel } from "../../../core/solve/linear.ts";
import type { RunColumns, Term } from "./batches.ts";
import type { MoveColumns, Taking } from "./grain-rows.ts";
import type { Ground } from "./ground.ts";

/** A first draw below this is none: whole grams, and the solver's dust. */
const LEAST_DRAW_KG = 0.002;

/** Everything that changes what lies in a store. */
export interface Flows {
  readonly takings: readonly Taking[];
  readonly moves: readonly MoveColumns[];
  readonly fills: readonly Taking[];
}

/** A store that a run may draw one of its lots from, and the column that is 1 when it does. */
interface Source {
  readonly storeId: string;
  readonly draw: number;
  readonly chosen: number;
}

/**
 * A run of two lots has two draws, so each lot comes from one store; and at the end of its day the first lot's store holds nothing more of
 * it. What lies of that lot in another store may stay there.
 */
export function addPairs(
  model: LinearModel,
  ground: Ground,
  runs: readonly RunColumns[],
  flows: Flows,
): void {
  for (const run of runs) {
    const [first, second] = run.option.lotIds;
    if (second === undefined) continue;
    sourcesOf(model, run, second);
    const { layKg, coming } = ground.heaps.get(first!)!;
    const allKg = [...layKg.values()].reduce((sum, one) => sum + one, coming?.massKg ?? 0);
    for (const { storeId, draw, chosen } of sourcesOf(model, run, first!)) {
      model.row(0, Infinity, [[draw, 1], [chosen, -LEAST_DRAW_KG]]);
      const changes = changesOf(ground, flows, first!, storeId, run.option.startDay);
      model.row(-Infinity, allKg - (layKg.get(storeId) ?? 0), [...changes, [chosen, allKg]]);
    }
  }
}

/** Lets a run draw a lot from one store only. */
function sourcesOf(model: LinearModel, { made, draws, option }: RunColumns, lotId: string): Source[] {
  const mine = draws.filter((draw) => draw.lotId === lotId);
  if (mine.length === 1) return mine.map(({ storeId, column }) => ({ storeId, draw: column, chosen: made }));
  const mostKg = option.greatestKg / (1 - option.made.screeningLoss);
  const sources = mine.map(({ storeId, column: draw }) => {
    const chosen = model.column(0, 0, 1, true);
    model.row(-Infinity, 0, [[draw, 1], [chosen, -mostKg]]);
    return { storeId, draw, chosen };
  });
  model.row(0, 0, [...sources.map(({ chosen }) => [chosen, 1] as const), [made, -1]]);
  return sources;
}

/** By how much a lot in a store has become more by the end of a day. */
function changesOf(
  { season }: Ground,
  { takings, moves, fills }: Flows,
  lotId: string,
  storeId: string,
  day: number,
): Term[] {
  const byThen = <T extends { readonly lotId: string; readonly day: number }>(all: readonly T[]) =>
    all.filter((one) => one.lotId === lotId && one.day <= day);
  const here = (one: { readonly storeId: string }) => one.storeId === storeId;
  return [
    ...byThen(fills).filter(here).map(({ column }) => [column, 1] as const),
    ...byThen(takings).filter(here).map(({ column }) => [column, -1] as const),
    ...byThen(moves).filter((move) => move.fromStoreId === storeId).map(({ column }) =>
      [column, -1] as const
    ),
    ...byThen(moves).filter((move) => move.toStoreId === storeId)
      .map(({ column }) => [column, 1 - season.costs.moveLoss] as const),
  ];
}
