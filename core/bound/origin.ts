import { goodPart } from "../search/origin.ts";
import type { Requirement } from "../search/problem.ts";
import type { LinearModel } from "../solve/linear.ts";
import { type DemandColumns, shareTolerance } from "./brews.ts";
import { pointAt, type Pool } from "./malt.ts";
import type { Source } from "./source.ts";

/**
 * Brews that ask for grain of named lots: the named part of what they use, in tonnes of extract, is at least their share, and all named parts
 * together come from named sources of the time.
 */
export function addOrigin(
  model: LinearModel,
  pools: readonly (Pool | null)[],
  demands: readonly DemandColumns[],
): void {
  const named = new Map<string, { asked: Requirement; byPoint: Map<number, Map<number, number[]>> }>();
  for (const demand of demands) {
    for (const asked of demand.demand.requires) {
      if (demand.uses.length === 0) {
        // Nothing of any kind can be had: its lines say so.
        continue;
      }
      const key = `${asked.unmixed} ${asked.counts.map(Number).join("")}`;
      const of = named.get(key) ?? { asked, byPoint: new Map() };
      named.set(key, of);
      addShare(model, pools, demand, asked, of.byPoint);
    }
  }
  for (const { asked, byPoint } of named.values()) {
    for (const [material, takers] of byPoint) {
      const pool = pools[material];
      if (pool) addNamedStock(model, pool, asked, takers, mostOf(demands, material));
    }
  }
}

function addShare(
  model: LinearModel,
  pools: readonly (Pool | null)[],
  demand: DemandColumns,
  asked: Requirement,
  byPoint: Map<number, Map<number, number[]>>,
): void {
  const share = asked.leastShare - shareTolerance(demand.needT);
  const entries: [number, number][] = [];
  const materials = new Set(demand.uses.map((use) => use.material));
  for (const material of materials) {
    const pool = pools[material] as Pool;
    const uses = demand.uses.filter((use) => use.material === material);
    const perT = pool.perT.flatMap((one) => one ? [one] : []);
    const good = goodSources(pool, asked);
    for (const use of uses) {
      entries.push([use.column, -share / Math.max(...perT.map((one) => one.greatest))]);
    }
    if (good.length === 0) continue;
    const column = model.column(
      0,
      0,
      uses.reduce((sum, use) => sum + (model.upper[use.column] as number), 0),
    );
    model.row(0, Infinity, [[column, -1], ...uses.map((use): [number, number] => [use.column, 1])]);
    entries.push([column, 1 / Math.min(...good.map((one) => one.leastPerT))]);
    const at = pointAt(pool.points, demand.latest);
    const points = byPoint.get(material) ?? new Map<number, number[]>();
    byPoint.set(material, points.set(at, [...points.get(at) ?? [], column]));
  }
  model.row(0, Infinity, entries);
}

function goodOf(source: Source, asked: Requirement): { fixedT: number; terms: [number, number][] } {
  return {
    fixedT: (source.fixedHomeT + source.fixedOtherT) * goodPart(asked, source.share),
    terms: source.terms.filter((term) => term.lot >= 0 && asked.counts[term.lot]).map((
      term,
    ): [number, number] => [term.column, term.gives]),
  };
}

function goodSources(pool: Pool, asked: Requirement): Source[] {
  return pool.sources.flat().filter((source) => {
    const { fixedT, terms } = goodOf(source, asked);
    return fixedT > 0 || terms.length > 0;
  });
}

/** Named stock before + what comes of named lots - what is taken as named >= named stock after. */
function addNamedStock(
  model: LinearModel,
  pool: Pool,
  asked: Requirement,
  takers: ReadonlyMap<number, readonly number[]>,
  mostT: number,
): void {
  let before = -1;
  pool.points.forEach((_, at) => {
    const after = model.column(0, 0, mostT);
    const entries: [number, number][] = [[after, -1]];
    if (before >= 0) entries.push([before, 1]);
    let fixedT = 0;
    for (const source of pool.sources[at] as readonly Source[]) {
      const good = goodOf(source, asked);
      fixedT += good.fixedT;
      entries.push(...good.terms);
    }
    for (const column of takers.get(at) ?? []) entries.push([column, -1]);
    model.row(-fixedT, Infinity, entries);
    before = after;
  });
}

function mostOf(demands: readonly DemandColumns[], material: number): number {
  return demands.reduce(
    (sum, demand) =>
      demand.uses.some((use) => use.material === material)
        ? sum + demand.needT.reduce((all, one) => all + one, 0)
        : sum,
    0,
  ) + 1;
}
