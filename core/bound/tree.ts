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
  /** Solves a case; a case that no plan fits may give any bound above `enough`. Null when nothing better than its parent can be proved. */
  solve: (limits: Case) => Raised | null;
  proofOf: (raised: Raised) => Proof;
  /** Bound above which a case needs no more work. */
  enough: number;
  cancelled: () => boolean;
}

/** Splits the case of the least bound by the total that is least whole, again and again, up to `most` times. */
export function branch(by: Brancher, root: Raised, most: number): { bound: number; proof: ProofTree } {
  const first: Node = { limits: new Map(), raised: root, proof: by.proofOf(root), split: null };
  const open: Node[] = [first];
  let stuck = Infinity;
  for (let splits = 0; splits < most && open.length > 0 && !by.cancelled(); splits++) {
    open.sort((a, b) => a.raised.bound - b.raised.bound);
    const node = open[0] as Node;
    // A case that cannot be split holds the whole bound down.
    if (node.raised.bound >= Math.min(by.enough, stuck)) break;
    open.shift();
    const chosen = leastWhole(by, node);
    if (!chosen) {
      stuck = node.raised.bound;
      continue;
    }
    const { total, at } = chosen;
    const [least, greatest] = node.limits.get(total) ?? [0, Infinity];
    const child = (limit: readonly [number, number]): Node => {
      const limits = new Map(node.limits).set(total, limit);
      const solved = by.solve(limits);
      const better = solved !== null && solved.bound > node.raised.bound;
      const raised = better ? solved : { ...node.raised, point: solved?.point ?? null };
      const made = { limits, raised, proof: better ? by.proofOf(solved) : node.proof, split: null };
      if (raised.point) open.push(made);
      else stuck = Math.min(stuck, raised.bound);
      return made;
    };
    node.split = { total, at, below: child([least, at]), above: child([at + 1, greatest]) };
  }
  return { bound: leastOf(first), proof: treeOf(first) };
}

function leastWhole({ totals }: Brancher, { raised, limits }: Node): { total: number; at: number } | null {
  const { point } = raised;
  if (!point) return null;
  let best: { total: number; at: number } | null = null, most = WHOLE;
  totals.forEach((columns, total) => {
    const sum = columns.reduce((all, column) => all + (point[column] as number), 0);
    const [least, greatest] = limits.get(total) ?? [0, Infinity];
    const at = Math.floor(sum);
    const off = Math.min(sum - at, at + 1 - sum);
    if (off > most && at >= least && at < greatest) {
      most = off;
      best = { total, at };
    }
  });
  return best;
}

function leastOf({ raised, split }: Node): number {
  return split ? Math.min(leastOf(split.below), leastOf(split.above)) : raised.bound;
}

function treeOf({ proof, split }: Node): ProofTree {
  return split
    ? { total: split.total, at: split.at, below: treeOf(split.below), above: treeOf(split.above) }
    : proof;
}
