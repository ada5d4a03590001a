import type { LinearModel } from "../solve/linear.ts";
import type { DemandColumns } from "./brews.ts";
import { pointAt, type Pool } from "./malt.ts";

/**
 * What is held and goes bad before it is used: a column at the first point after its last day, at least what of it nothing can
 * have taken by then. Malt of runs and orders to come is taken to keep.
 */
export function addSpoilt(
  model: LinearModel,
  pools: readonly (Pool | null)[],
  demands: readonly DemandColumns[],
): (pool: Pool, kind: 0 | 1, at: number) => readonly number[] {
  const spoilt = new Map<string, number[]>();
  const lastUse = Math.max(...demands.map((one) => one.latest).filter(Number.isFinite));
  for (const pool of pools) {
    for (const source of pool?.sources.flat() ?? []) {
      if (!pool || source.lastDay >= lastUse) continue;
      const at = pointAt(pool.points, source.lastDay) + 1;
      if (at >= pool.points.length) continue;
      const kind = source.fixedHomeT > 0 ? 0 : 1;
      const heldT = source.fixedHomeT + source.fixedOtherT;
      const takers: [number, number][] = demands.filter((one) =>
        one.earliest <= source.lastDay && one.latest >= source.day
      ).flatMap((one) =>
        one.uses.filter((use) => use.material === pool.material && use.home === (kind === 0)).map((
          use,
        ): [number, number] => [use.column, 1])
      );
      const column = model.column(0, 0, heldT);
      model.row(heldT, Infinity, [[column, 1], ...takers]);
      const key = `${pool.material} ${kind} ${at}`;
      spoilt.set(key, [...spoilt.get(key) ?? [], column]);
    }
  }
  return (pool, kind, at) => spoilt.get(`${pool.material} ${kind} ${at}`) ?? [];
}
