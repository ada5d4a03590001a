import type { DemandColumns } from "./brews.ts";
import type { BoundModel } from "./model.ts";
import { pointAt, type Pool } from "./malt.ts";
import { type CutRow, rounded, type Wanted } from "./rounding.ts";
import type { Source } from "./source.ts";

/**
 * A window cut: what demands that end in `from` to before `to` ask of some malts together comes from stock, from what comes in in the window,
 * or from elsewhere. `homeOnly` counts home-grown malt alone, and other malt as elsewhere. Runs and orders whose count columns are in
 * `loose` count by weight, the others by the whole run or order, at its greatest.
 */
export interface MaltCut {
  readonly kind: "malt";
  readonly materials: readonly number[];
  readonly homeOnly: boolean;
  readonly from: number;
  readonly to: number;
  readonly step: number;
  readonly loose: readonly number[];
  /** Demands that are left out, and those that count by what their promise asks of home-grown malt, if it is held. */
  readonly without: readonly number[];
  readonly kept: readonly number[];
}

/** The row of a window cut; null where rounding gives none. */
export function maltRow(of: BoundModel, cut: MaltCut): CutRow | null {
  const wanted = wantedOf(of, cut);
  return rounded(wanted, cut.step);
}

export function wantedOf({ pools, demands }: BoundModel, cut: MaltCut): Wanted {
  const { materials, homeOnly, from, to } = cut;
  const wholes: [number, number][] = [], rest: [number, number][] = [], made: [number, number][] = [];
  const loose = new Set(cut.loose), without = new Set(cut.without), kept = new Set(cut.kept);
  const asked: { latest: number; wanted: number }[] = [];
  for (const demand of demands) {
    if (demand.latest < from || demand.latest >= to || without.has(demand.demand.index)) continue;
    const byPromise = kept.has(demand.demand.index);
    const one = askedBy(demand, materials, homeOnly, byPromise);
    rest.push(...one.rest);
    if (one.wanted <= 0) continue;
    asked.push({ latest: demand.latest, wanted: one.wanted });
    made.push([byPromise ? demand.kept : demand.made, one.wanted]);
  }
  const askedFrom = (day: number) =>
    asked.reduce((sum, one) => one.latest >= day ? sum + one.wanted : sum, 0);
  let wanted = askedFrom(-Infinity);
  for (const material of materials) {
    const pool = pools[material] as Pool;
    for (const column of stocksOf(demands, pool, homeOnly, from)) rest.push([column, 1]);
    for (const { day, source } of sourcesIn(pool, from, to)) {
      wanted -= source.fixedHomeT + (homeOnly ? 0 : source.fixedOtherT);
      const terms = source.terms.filter((term) => term.home || !homeOnly);
      if (terms.length === 0) continue;
      // However much one brings, no more of it can go into what is still asked in the window.
      if (source.whole >= 0 && !loose.has(source.whole)) {
        wholes.push([source.whole, Math.min(mostOf(source, homeOnly), askedFrom(day))]);
      } else for (const term of terms) rest.push([term.column, term.gives]);
    }
  }
  return { wholes, rest, made, wanted };
}

/**
 * What a demand asks of some malts if it is made (or, by its promise, of home-grown malt if that is held), and the columns by which it can be
 * had of others instead.
 */
export function askedBy(
  demand: DemandColumns,
  materials: readonly number[],
  homeOnly: boolean,
  byPromise: boolean,
): { wanted: number; rest: [column: number, gives: number][] } {
  const rest: [number, number][] = [];
  let wanted = 0;
  demand.demand.lines.forEach((line, place) => {
    const needT = (byPromise ? demand.homeT : demand.needT)[place] ?? 0;
    if (!materials.includes(line.material) || needT <= 0) return;
    wanted += needT;
    for (const use of demand.uses) {
      if (use.line !== place || (byPromise && !use.home)) continue;
      const inside = materials.includes(use.material) && (use.home || !homeOnly);
      const over = inside ? use.gives - 1 : use.gives;
      if (over > 0) rest.push([use.column, over]);
    }
  });
  return { wanted, rest };
}

/** Columns of what lies there on the morning of a day: stock behind the stretch it falls into, and what that stretch still uses. */
export function stocksOf(
  demands: readonly DemandColumns[],
  pool: Pool,
  homeOnly: boolean,
  day: number,
): number[] {
  const at = pointAt(pool.points, day - 1);
  if (at < 0) return [];
  const to = pool.points[at + 1] ?? Infinity;
  const stocks = [pool.home[at] as number, ...(homeOnly ? [] : [pool.other[at] as number])];
  const later = demands.filter(({ latest }) => latest >= day && latest < to).flatMap(({ uses }) =>
    uses.flatMap((use) => use.material === pool.material && (use.home || !homeOnly) ? [use.column] : [])
  );
  return [...stocks.filter((one) => one >= 0), ...later];
}

/** Sources that come in in a window, with the day of their point. */
export function sourcesIn(pool: Pool, from: number, to: number): { day: number; source: Source }[] {
  return pool.points.flatMap((day, at) =>
    day >= from && day < to ? (pool.sources[at] ?? []).map((source) => ({ day, source })) : []
  );
}

/** Most that one run or order gives. */
export function mostOf(source: Source, homeOnly: boolean): number {
  if (!homeOnly || source.terms.every((term) => term.home)) return source.mostT;
  const most = Math.max(...source.terms.map((term) => term.gives));
  const home = Math.max(...source.terms.filter((term) => term.home).map((term) => term.gives));
  return source.mostT * home / most;
}

/** Sets of malts that are looked at together: each alone, and each with one that may stand in for it. */
export function maltSets({ pools, demands }: BoundModel): number[][] {
  const sets = new Map<string, number[]>();
  const put = (set: number[]) => {
    const sorted = [...new Set(set)].sort((a, b) => a - b);
    if (sorted.every((material) => pools[material])) sets.set(sorted.join(" "), sorted);
  };
  for (const demand of demands) {
    demand.demand.lines.forEach((line) => {
      put([line.material]);
      for (const { material } of line.substitutes) put([line.material, material]);
    });
  }
  return [...sets.values()];
}
