import type { LinearModel } from "../solve/linear.ts";
import type { Problem } from "../search/problem.ts";
import type { Source } from "./source.ts";

/** Malt (or raw grain) of a material in stock from point to point of time: home-grown and other, tonnes of extract. */
export interface Pool {
  readonly material: number;
  /** Days at which something can come in, ascending; the first is as-of. */
  readonly points: readonly number[];
  /** By point: stock columns behind what comes and goes between it and the next; home-grown, other. */
  readonly home: readonly number[];
  readonly other: readonly number[];
  /** By point: sources that come in there. */
  readonly sources: readonly (readonly Source[])[];
  /** By point, home and other: entries of what is used between it and the next, filled by the demands. */
  readonly used: readonly [home: [number, number][], other: [number, number][]][];
  /** Least and greatest extract in a tonne, home-grown and other; null where none ever comes. */
  readonly perT: readonly [home: PerT | null, other: PerT | null];
}

export interface PerT {
  readonly least: number;
  readonly greatest: number;
}

/** Place of the last point on or before a day; -1 for none. */
export function pointAt(points: readonly number[], day: number): number {
  let at = points.length - 1;
  while (at >= 0 && (points[at] as number) > day) at--;
  return at;
}

/** Pools by material; null where nothing ever comes in. */
export function addPools(
  model: LinearModel,
  problem: Problem,
  sources: readonly Source[],
  mostT: (material: number) => number,
): (Pool | null)[] {
  return problem.materials.map(({ index: material }): Pool | null => {
    const own = sources.filter((source) =>
      source.material === material && Number.isFinite(source.day) && source.lastDay >= source.day
    );
    if (own.length === 0) return null;
    const days = own.map((source) => Math.max(source.day, problem.asOfDay));
    const points = [...new Set([problem.asOfDay, ...days])].sort((a, b) => a - b);
    const byPoint = points.map((day) => own.filter((one) => Math.max(one.day, problem.asOfDay) === day));
    const isHome = (one: Source) => one.fixedHomeT > 0 || one.terms.some((term) => term.home);
    const isOther = (one: Source) => one.fixedOtherT > 0 || one.terms.some((term) => !term.home);
    const perT = (of: readonly Source[]) =>
      of.length === 0 ? null : {
        least: Math.min(...of.map((one) => one.leastPerT)),
        greatest: Math.max(...of.map((one) => one.greatestPerT)),
      };
    const most = mostT(material);
    const stock = (exists: boolean) => points.map(() => exists ? model.column(0, 0, most) : -1);
    const home = own.filter(isHome), other = own.filter(isOther);
    return {
      material,
      points,
      home: stock(home.length > 0),
      other: stock(other.length > 0),
      sources: byPoint,
      used: points.map(() => [[], []]),
      perT: [perT(home), perT(other)],
    };
  });
}

/** Stock before + what comes - what is used - what spoils >= stock after, at every point, home-grown and other. */
export function closePools(model: LinearModel, pools: readonly (Pool | null)[], spoilt: Spoilt): void {
  for (const pool of pools) {
    if (!pool) continue;
    for (const kind of [0, 1] as const) {
      const stock = kind === 0 ? pool.home : pool.other;
      if (stock[0] === -1) continue;
      pool.points.forEach((_, at) => {
        const entries: [number, number][] = [[stock[at] as number, -1]];
        if (at > 0) entries.push([stock[at - 1] as number, 1]);
        let fixedT = 0;
        for (const source of pool.sources[at] as readonly Source[]) {
          fixedT += kind === 0 ? source.fixedHomeT : source.fixedOtherT;
          for (const term of source.terms) {
            if (term.home === (kind === 0)) entries.push([term.column, term.gives]);
          }
        }
        for (const [column, gives] of (pool.used[at] as Pool["used"][number])[kind]) {
          entries.push([column, -gives]);
        }
        for (const column of spoilt(pool, kind, at)) entries.push([column, -1]);
        model.row(-fixedT, Infinity, entries);
      });
    }
  }
}

/** Columns of what goes bad at a point. */
type Spoilt = (pool: Pool, kind: 0 | 1, at: number) => readonly number[];
