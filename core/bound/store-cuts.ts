import type { Found } from "./find-malt-cuts.ts";
import type { BoundModel } from "./model.ts";
import { ROUNDED_T } from "./source.ts";
import type { CutRow } from "./rounding.ts";
import { G_PER_TONNE } from "../units.ts";

/** A store cut: what has surely come into the malt store by the end of a day, less all that can have gone, finds places there. */
export interface StoreCut {
  readonly kind: "store";
  readonly day: number;
}

/** Extract in store, turned into weight as if all were of the richest, is no more than the places hold. */
export function storeRow({ problem, sources, pools, demands }: BoundModel, { day }: StoreCut): CutRow {
  const entries: [number, number][] = [];
  const placeT = problem.season.maltStore.placeG / G_PER_TONNE;
  let freeT = 0, settled = 0;
  const perT = (material: number) => {
    const of = pools[material]?.perT.flatMap((one) => one ? [one.greatest] : []) ?? [];
    return Math.max(...of, 1e-3);
  };
  for (const source of sources) {
    if (source.storedDay > day) continue;
    const rate = perT(source.material);
    const fixedT = source.fixedHomeT + source.fixedOtherT;
    freeT -= fixedT / rate;
    settled += Math.ceil(fixedT / source.leastPerT / placeT);
    for (const term of source.terms) entries.push([term.column, -term.surely / rate]);
  }
  for (const demand of demands) {
    if (demand.earliest > day) continue;
    for (const use of demand.uses) entries.push([use.column, 1 / perT(use.material)]);
    freeT += 3 * ROUNDED_T * demand.needT.length;
  }
  // What is recorded, under way or booked may crowd the store by itself.
  freeT += Math.max(problem.season.maltStore.places, settled) * placeT;
  return { lower: -freeT, entries };
}

const STEP_DAYS = 7;

/** Finds store cuts that a point violates. */
export function storeCutFinder(of: BoundModel): (values: Float64Array) => Found<StoreCut>[] {
  const { problem } = of;
  const cuts: StoreCut[] = [];
  for (let day = problem.freeDay; day <= problem.endDay; day += STEP_DAYS) cuts.push({ kind: "store", day });
  const rows = cuts.map((cut) => ({ cut, row: storeRow(of, cut) }));
  return (values) =>
    rows.flatMap(({ cut, row }) => {
      const sum = row.entries.reduce((all, [column, gives]) => all + gives * (values[column] as number), 0);
      return sum < row.lower - 1e-4 ? [{ cut, by: row.lower - sum }] : [];
    });
}
