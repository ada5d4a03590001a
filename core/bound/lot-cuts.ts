import type { BoundModel } from "./model.ts";
import type { Found } from "./find-malt-cuts.ts";
import { type CutRow, remainderOf, rounded, stepsOf, type Wanted } from "./rounding.ts";

/** A lot cut: grain of lots that may come together in runs is steeped in whole runs at their greatest, or is put to another use. */
export interface LotCut {
  readonly kind: "lots";
  readonly lots: readonly number[];
  readonly step: number;
  /** Count columns of runs that count by weight. */
  readonly loose: readonly number[];
}

/** Lots in sets: two lots of which any malt's group holds both are in one. */
export function lotSets({ runs, grain }: BoundModel): number[][] {
  const sets: Set<number>[] = [];
  for (const run of runs) {
    const joined = sets.filter((set) => run.lots.some((lot) => set.has(lot)));
    for (const set of joined) sets.splice(sets.indexOf(set), 1);
    sets.push(new Set([...joined.flatMap((set) => [...set]), ...run.lots]));
  }
  return sets.map((set) => [...set].sort((a, b) => a - b).filter((lot) => (grain.freeT[lot] as number) > 0));
}

function wantedOf({ runs, grain }: BoundModel, { lots, loose }: LotCut): Wanted {
  const wholes: [number, number][] = [], rest: [number, number][] = [];
  for (const run of runs) {
    if (!run.lots.some((lot) => lots.includes(lot))) continue;
    if (!loose.includes(run.count)) wholes.push([run.count, run.mostT]);
    else for (const column of run.draws) if (column >= 0) rest.push([column, 1]);
  }
  let wanted = 0;
  for (const lot of lots) {
    wanted += grain.freeT[lot] as number;
    for (const column of grain.rest[lot] as readonly number[]) rest.push([column, 1]);
    const mash = grain.raw.get(lot);
    if (mash !== undefined) rest.push([mash, 1]);
  }
  return { wholes, rest, made: [], wanted };
}

export function lotRow(of: BoundModel, cut: LotCut): CutRow | null {
  return rounded(wantedOf(of, cut), cut.step);
}

/** Lot cuts that a point violates. */
export function findLotCuts(of: BoundModel, lots: readonly number[], values: Float64Array): Found<LotCut>[] {
  const at = (column: number) => values[column] as number;
  const all = wantedOf(of, { kind: "lots", lots, step: 1, loose: [] });
  const runs = of.runs.filter((run) => run.lots.some((lot) => lots.includes(lot)));
  const rest = all.rest.reduce((sum, [column, gives]) => sum + gives * at(column), 0);
  const found: Found<LotCut>[] = [];
  for (const step of new Set(runs.map((run) => run.mostT))) {
    const left = remainderOf(all.wanted, step);
    if (!left) continue;
    const { remainder, steps } = left;
    let sum = rest;
    const loose: number[] = [];
    for (const run of runs) {
      const whole = step * remainder * stepsOf(run.mostT, step, remainder, steps) * at(run.count);
      const weight = run.draws.reduce((total, column) => column < 0 ? total : total + at(column), 0);
      sum += Math.min(whole, weight);
      if (weight < whole) loose.push(run.count);
    }
    const by = (step * remainder * steps - sum) / Math.sqrt(runs.length + all.rest.length);
    if (by > 1e-4) found.push({ by, cut: { kind: "lots", lots, step, loose } });
  }
  return found;
}
