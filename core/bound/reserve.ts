import type { Problem } from "../search/problem.ts";
import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import type { DemandColumns } from "./brews.ts";
import type { Pool } from "./malt.ts";

/**
 * The reserve's price, never too high: between two points at which malt may come in, mean stock <= stock behind the last use + what was used, for
 * the share of the days it still lay there at most; mean shortfall >= floor - mean stock, as the shortfall of the mean is no
 * more than the mean of the shortfalls.
 */
export function addReserve(
  model: LinearModel,
  problem: Problem,
  pools: readonly (Pool | null)[],
  demands: readonly DemandColumns[],
): void {
  const price = problem.season.costs.reservePerTonneDayCents / 100;
  const first = problem.asOfDay + 1, end = problem.horizonDay + 1;
  if (price <= 0 || end <= first) return;
  for (const material of problem.materials) {
    if (!material.malt || material.floorG <= 0) continue;
    const floorT = material.floorG / G_PER_TONNE;
    const pool = pools[material.index];
    if (!pool) {
      // No malt of the kind can ever be had: the floor is missed every day.
      model.column(price * floorT * (end - first), 1, 1);
      continue;
    }
    pool.points.forEach((point, at) => {
      const from = Math.max(point, first);
      const to = Math.min(pool.points[at + 1] ?? Infinity, end);
      if (to <= from) return;
      const entries: [number, number][] = [];
      for (const kind of [0, 1] as const) {
        const perT = pool.perT[kind];
        if (!perT) continue;
        entries.push([(kind === 0 ? pool.home : pool.other)[at] as number, 1 / perT.least]);
        for (const demand of demands) {
          if (demand.latest < point || demand.latest >= (pool.points[at + 1] ?? Infinity)) continue;
          const share = (Math.min(Math.max(demand.latest, from), to) - from) / (to - from);
          for (const use of demand.uses) {
            if (use.material !== material.index || use.home !== (kind === 0) || share <= 0) continue;
            entries.push([use.column, share / perT.least]);
          }
        }
      }
      const short = model.column(price * (to - from), 0, floorT);
      model.row(floorT, Infinity, [[short, 1], ...entries]);
    });
  }
}
