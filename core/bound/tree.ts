import type { BoundModel } from "./model.ts";
import type { Raised } from "./raise.ts";
import type { Proof } from "./proof.ts";

/**
 * A proof by cases: a total of runs or orders is at most `at`, or at least one more, and each case is proved by itself. What is
 * proved of all plans is the least of the cases.
 */
export type ProofTree = Proof | Split;

export interface Split {
  /** Place of the total among the total rows. */
  readonly total: number;
  readonly at: number;
  readonly below: ProofTree;
  readonly above: ProofTree;
}

/** Between which whole numbers each total lies in a case; totals that are open are left out. */
export type Case = ReadonlyMap<number, readonly [least: number, most: number]>;

/** A total this near to a whole number is whole. */
const WHOLE = 0.01;

interface Node {
  readonly limits: Case;
  readonly raised: Raised;
  readonly proof: Proof;
  split: { total: number; at: number; below: Node; above: Node } | null;
}

/** What the branching needs to know of the solver. */
export interface Brancher {
  of: BoundModel;
  totals: readonly (readonly number[])[];
  /** How many of them are split first: the others only where all of these are whole. */
  coarse: number;
  /** Solves a case; a case that no plan fits may give any bound above `enough`. Null when nothing better than its parent can be proved. */
  solve: (limits: Case) => Raised | null;
  proofOf: (raised: Raised) => Proof;
  /** Bound above which a case needs no more work. */
  enough: number;
  cancelled: () => boolean;
}

/** Splits the case of the least bound by the total that tells most, again and again, up to `most` times. */
export function branch(by: Brancher, root: Raised, most: number): { bound: number; proof: ProofTree } {
  const first: Node = { limits: new Map(), raised: root, proof: by.proofOf(root), split: null };
  const open: Node[] = [first];
  const gains = new Gains();
  let stuck = Infinity;
  if (most > 0 && root.point) sound(by, root, gains);
  for (let splits = 0; splits < most && open.length > 0 && !by.cancelled(); splits++) {
    open.sort((a, b) => a.raised.bound - b.raised.bound);
    const node = open[0] as Node;
    // A case that cannot be split holds the whole bound down.
    if (node.raised.bound >= Math.min(by.enough, stuck)) break;
    open.shift();
    const chosen = mostTelling(by, node, gains);
    if (!chosen) {
      stuck = node.raised.bound;
      continue;
    }
    const { total, at, sum } = chosen;
    const [least, greatest] = node.limits.get(total) ?? [0, Infinity];
    const child = (limit: readonly [number, number], way: keyof Gain, off: number): Node => {
      const limits = new Map(node.limits).set(total, limit);
      const solved = by.solve(limits);
      gains.note(total, way, (Math.min(solved?.bound ?? 0, by.enough) - node.raised.bound) / off);
      const better = solved !== null && solved.bound > node.raised.bound;
      const raised = better ? solved : { ...node.raised, point: solved?.point ?? null };
      const made = { limits, raised, proof: better ? by.proofOf(solved) : node.proof, split: null };
      if (raised.point) open.push(made);
      else stuck = Math.min(stuck, raised.bound);
      return made;
    };
    node.split = {
      total,
      at,
      below: child([least, at], "below", sum - at),
      above: child([at + 1, greatest], "above", at + 1 - sum),
    };
  }
  return { bound: leastOf(first), proof: treeOf(first) };
}

/** Totals that are tried at the root before any is split, so that the first splits are well chosen. */
const SOUNDED = 30;

/** Notes what both cases of the most broken totals would raise the bound by. */
function sound({ totals, coarse, solve, enough, cancelled }: Brancher, root: Raised, gains: Gains): void {
  const broken = totals.slice(0, coarse).map((columns, total) => {
    const sum = columns.reduce((all, column) => all + (root.point?.[column] as number), 0);
    const at = Math.floor(sum);
    return { total, at, sum, by: Math.min(sum - at, at + 1 - sum) };
  }).filter((one) => one.by > WHOLE).sort((a, b) => b.by - a.by).slice(0, SOUNDED);
  for (const { total, at, sum } of broken) {
    if (cancelled()) return;
    const gain = (limit: readonly [number, number], off: number) =>
      (Math.min(solve(new Map([[total, limit]]))?.bound ?? 0, enough) - root.bound) / off;
    gains.note(total, "below", gain([0, at], sum - at));
    gains.note(total, "above", gain([at + 1, Infinity], at + 1 - sum));
  }
}

interface Choice {
  total: number;
  at: number;
  sum: number;
}

/** The broken total whose cases can be expected to raise the bound most, both of them. */
function mostTelling({ totals, coarse }: Brancher, node: Node, gains: Gains): Choice | null {
  return mostTellingOf(totals, 0, coarse, node, gains) ??
    mostTellingOf(totals, coarse, totals.length, node, gains);
}

function mostTellingOf(
  totals: Brancher["totals"],
  from: number,
  to: number,
  { raised: { point }, limits }: Node,
  gains: Gains,
): Choice | null {
  if (!point) return null;
  let best: Choice | null = null, most = 0;
  for (let total = from; total < to; total++) {
    const sum = (totals[total] as readonly number[]).reduce(
      (all, column) => all + (point[column] as number),
      0,
    );
    const [least, greatest] = limits.get(total) ?? [0, Infinity];
    const at = Math.floor(sum);
    if (Math.min(sum - at, at + 1 - sum) <= WHOLE || at < least || at >= greatest) continue;
    const expected = gains.expected(total, "below", sum - at) * gains.expected(total, "above", at + 1 - sum);
    if (expected <= most) continue;
    most = expected;
    best = { total, at, sum };
  }
  return best;
}

interface Gain {
  below: { sum: number; count: number };
  above: { sum: number; count: number };
}

/** What cases of each total have raised the bound by so far, for each unit that its sum was pushed. */
class Gains {
  private readonly of = new Map<number, Gain>();
  private readonly all = none();

  note(total: number, way: keyof Gain, gain: number): void {
    const own = this.of.get(total) ?? none();
    this.of.set(total, own);
    for (const one of [own, this.all]) {
      one[way].sum += Math.max(0, gain);
      one[way].count++;
    }
  }

  /** What a total not tried yet gains is what all others did on average. */
  expected(total: number, way: keyof Gain, off: number): number {
    const own = this.of.get(total)?.[way] ?? this.all[way];
    const { sum, count } = own.count > 0 ? own : this.all[way];
    return off * Math.max(LEAST_GAIN, count > 0 ? sum / count : 1);
  }
}

/** Less than any gain that counts, so that a total that never gained is still told from another. */
const LEAST_GAIN = 1e-3;

function none(): Gain {
  return { below: { sum: 0, count: 0 }, above: { sum: 0, count: 0 } };
}

function leastOf({ raised, split }: Node): number {
  return split ? Math.min(leastOf(split.below), leastOf(split.above)) : raised.bound;
}

function treeOf({ proof, split }: Node): ProofTree {
  return split
    ? { total: split.total, at: split.at, below: treeOf(split.below), above: treeOf(split.above) }
    : proof;
}
