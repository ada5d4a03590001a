import type { ReaderUnits } from "../units.ts";

export type NodeKind =
  | "planting"
  | "bought grain"
  | "lot"
  | "mix"
  | "run"
  | "drum"
  | "order"
  | "batch"
  | "brew"
  | "feed"
  | "seed"
  | "sale";

/** One thing in the chain from field to brew. `id` is `kind:id of the thing`, with a hyphen in "bought-grain". */
export interface Node {
  readonly id: string;
  readonly kind: NodeKind;
  /** Id of the planting, lot, run, ... itself. */
  readonly refId: string;
  /** Day on which it stands on the time axis: cut, formed, steeped, ready, brewed, fetched. May carry a fraction. */
  readonly day: number;
  /** As the chain reads it: "Long Bottom, cut 8 Jul", "lot A", "run 14", "pale", "Field Pale 9 Mar". */
  readonly label: string;
  /** Store a lot first lies in, vessel of a run's steep; null elsewhere. Where the drawing knots the thread. */
  readonly place: string | null;
  readonly massG: number;
  /** Home-grown share, brews only. */
  readonly homeShare: number | null;
}

/** `massG` of the first went into the second, as is. */
export interface Edge {
  readonly from: string;
  readonly to: string;
  readonly massG: number;
  readonly day: number;
}

/** Everything that became something else. Edges run from field to brew. Plain data, so that a page can carry it as JSON. */
export interface Graph {
  readonly units: ReaderUnits;
  readonly nodes: readonly Node[];
  readonly edges: readonly Edge[];
}

/** All ancestors and offspring of one node, itself included. */
export interface Trace {
  readonly nodes: ReadonlySet<string>;
  readonly edges: readonly Edge[];
  /** "Long Bottom, cut 8 Jul → lot A → run 14 → 830 kg of pale → Field Pale 9 Mar". Empty for an unknown node. */
  readonly sentence: string;
}
