import { addCut, type Cut } from "./cuts.ts";
import type { BoundModel } from "./model.ts";
import { type Duals, provenBound } from "./recheck.ts";
import type { Case, ProofTree } from "./tree.ts";

/** Dual values, and the cuts they are of: what a bound is recomputed from. Rows are numbered: the model's, levels, totals, the cuts in order. */
export interface Proof {
  readonly cuts: readonly Cut[];
  readonly duals: Duals;
}

/** The duals that are not 0, with the cuts among them. */
export function proofOf(duals: Float64Array, cuts: readonly Cut[], firstCut: number): Proof {
  const used: Cut[] = [];
  const kept: [number, number][] = [];
  duals.forEach((value, row) => {
    if (value === 0) return;
    if (row < firstCut) kept.push([row, value]);
    else kept.push([firstCut + used.push(cuts[row - firstCut] as Cut) - 1, value]);
  });
  return { cuts: used, duals: kept };
}

/**
 * What a proof shows in plain arithmetic: the least over its cases, each with its totals limited and its cuts built anew. The model is left as it was:
 * its own rows, levels and totals. A case that a split leaves out cannot be: below and above are all there is.
 */
export function proved(
  of: BoundModel,
  cost: readonly number[],
  proof: ProofTree,
  totalRow: number,
  limits: Case = new Map(),
): number {
  if ("total" in proof) {
    const { total, at } = proof;
    const [least, most] = limits.get(total) ?? [0, Infinity];
    if (!Number.isInteger(at)) throw new RangeError(`a total is split at a whole number, not at ${at}`);
    const side = (limit: readonly [number, number]) => new Map(limits).set(total, limit);
    return Math.min(
      proved(of, cost, proof.below, totalRow, side([least, Math.min(most, at)])),
      proved(of, cost, proof.above, totalRow, side([Math.max(least, at + 1), most])),
    );
  }
  const { model } = of;
  const rows = model.rowLower.length, entries = model.index.length;
  for (const cut of proof.cuts) addCut(of, cut);
  for (const [total, [least, most]] of limits) {
    model.rowLower[totalRow + total] = least;
    model.rowUpper[totalRow + total] = most;
  }
  const bound = provenBound(model, cost, proof.duals);
  for (const total of limits.keys()) {
    model.rowLower[totalRow + total] = -Infinity;
    model.rowUpper[totalRow + total] = Infinity;
  }
  model.rowLower.length = model.rowUpper.length = rows;
  model.start.length = rows + 1;
  model.index.length = model.value.length = entries;
  return bound;
}
