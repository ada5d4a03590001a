import type { ReaderUnits } from "../units.ts";
import { percentWords } from "./sentence.ts";
import { listWords, maltWeightWords, stretchWords } from "./words.ts";

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

/** The graph with the edges of each node at hand. */
interface Index {
  readonly units: ReaderUnits;
  readonly nodes: ReadonlyMap<string, Node>;
  readonly into: ReadonlyMap<string, readonly Edge[]>;
  readonly outOf: ReadonlyMap<string, readonly Edge[]>;
}

/** Pages trace at every pointer move, so a graph is indexed once. */
const indexes = new WeakMap<Graph, Index>();

function indexOf(graph: Graph): Index {
  const known = indexes.get(graph);
  if (known !== undefined) return known;
  const into = new Map<string, Edge[]>(), outOf = new Map<string, Edge[]>();
  for (const edge of graph.edges) {
    into.set(edge.to, [...into.get(edge.to) ?? [], edge]);
    outOf.set(edge.from, [...outOf.get(edge.from) ?? [], edge]);
  }
  const index = {
    units: graph.units,
    nodes: new Map(graph.nodes.map((node) => [node.id, node])),
    into,
    outOf,
  };
  indexes.set(graph, index);
  return index;
}

/** Ancestry and offspring of a node of a year (or of a graph). An unknown node gives an empty trace. */
export function traceOf(source: Graph | { readonly graph: Graph }, nodeId: string): Trace {
  const index = indexOf("graph" in source ? source.graph : source);
  const node = index.nodes.get(nodeId);
  if (node === undefined) return { nodes: new Set(), edges: [], sentence: "" };
  const edges: Edge[] = [];
  const up = reach(nodeId, index.into, (edge) => edge.from, edges);
  const down = reach(nodeId, index.outOf, (edge) => edge.to, edges);
  return {
    nodes: new Set([...up, ...down]),
    edges,
    sentence: node.kind === "brew" ? brewChain(index, node) : chain(index, node, up, down),
  };
}

/** Everything reached from a node along the edges, itself included; the edges walked are added to `walked`. */
function reach(
  start: string,
  edges: ReadonlyMap<string, readonly Edge[]>,
  other: (edge: Edge) => string,
  walked: Edge[],
): Set<string> {
  const seen = new Set([start]);
  const open = [start];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    for (const edge of edges.get(id) ?? []) {
      walked.push(edge);
      const next = other(edge);
      if (seen.has(next)) continue;
      seen.add(next);
      open.push(next);
    }
  }
  return seen;
}

const ARROW = " → ";

/** A brew is read back malt by malt, the heaviest first: each part from its fields to its weight in the grist. */
function brewChain(index: Index, brew: Node): string {
  const parts = new Map<string, { massG: number; from: Set<string>; label: string }>();
  for (const edge of index.into.get(brew.id) ?? []) {
    const from = index.nodes.get(edge.from);
    if (from === undefined) continue;
    const bought = (index.into.get(from.id) ?? []).some((one) => index.nodes.get(one.from)?.kind === "order");
    const key = `${from.kind} ${from.label} ${bought}`;
    const part = parts.get(key) ?? { massG: 0, from: new Set<string>(), label: from.label };
    part.massG += edge.massG;
    part.from.add(from.id);
    parts.set(key, part);
  }
  const share = brew.homeShare === null
    ? ""
    : percentWords(brew.homeShare) === "100"
    ? ", all home-grown"
    : `, ${percentWords(brew.homeShare)} % home-grown`;
  const said = [...parts.values()].sort((a, b) => b.massG - a.massG).map((part) => {
    const up = new Set<string>();
    for (const id of part.from) {
      for (const one of reach(id, index.into, (edge) => edge.from, [])) up.add(one);
    }
    const nodes = nodesOf(index, up);
    const raw = nodes.some((node) => node.kind === "lot" && part.from.has(node.id));
    const crop = raw ? "raw grain" : part.label;
    const before = levels(nodes, UPWARD);
    const said = `${weight(part.massG, index.units)} of ${crop}`;
    return before.length === 0 ? `${said} in store at the start` : [...before, said].join(ARROW);
  });
  const head = brew.label + share;
  return said.length === 0 ? head : `${said.join(" + ")}${ARROW}${head}`;
}

const UPWARD: readonly NodeKind[] = ["planting", "bought grain", "lot", "run", "drum", "order"];
const DOWNWARD: readonly NodeKind[] = ["lot", "run", "batch", "brew"];
const SIDEWAYS: readonly NodeKind[] = ["feed", "seed", "sale"];

/** Any other thing is read as one line of levels: what it came of, itself, what it became. */
function chain(index: Index, node: Node, up: ReadonlySet<string>, down: ReadonlySet<string>): string {
  const before = nodesOf(index, up).filter((one) => one.id !== node.id);
  const after = nodesOf(index, down).filter((one) => one.id !== node.id);
  const self = node.kind === "batch" ? `${weight(node.massG, index.units)} of ${node.label}` : node.label;
  const line = [
    ...levels(before, [...UPWARD, "batch"]),
    self,
    ...levels(after, DOWNWARD, index.units),
  ].join(ARROW);
  const aside = after.filter((one) => SIDEWAYS.includes(one.kind))
    .map((one) => `${one.label} (${weight(massInto(index, one, down), index.units)})`);
  return aside.length === 0 ? line : `${line}; ${aside.join("; ")}`;
}

/** Of what a lorry or a sack took, the part that comes from inside the trace. */
function massInto(index: Index, node: Node, inside: ReadonlySet<string>): number {
  return (index.into.get(node.id) ?? [])
    .filter((edge) => inside.has(edge.from)).reduce((sum, edge) => sum + edge.massG, 0);
}

function nodesOf(index: Index, ids: ReadonlySet<string>): Node[] {
  return [...ids].flatMap((id) => index.nodes.get(id) ?? []).sort((a, b) => a.day - b.day);
}

/** Most things of one level that are named one by one. */
const MOST_NAMED = 3;

function levels(nodes: readonly Node[], kinds: readonly NodeKind[], units?: ReaderUnits): string[] {
  return kinds.flatMap((kind) => {
    const level = nodes.filter((node) => node.kind === kind);
    if (level.length === 0) return [];
    if (kind === "batch") return [batches(level, units ?? "metric")];
    if (level.length <= MOST_NAMED) return [listWords(shortened(kind, level))];
    if (kind === "run") return [`${level.length} runs, ${days(level)}`];
    if (kind === "brew") return [`${level.length} brews, ${days(level)}`];
    return [listWords(shortened(kind, level))];
  });
}

/** "runs 12 and 13" instead of "run 12 and run 13"; the same for lots. */
function shortened(kind: NodeKind, level: readonly Node[]): string[] {
  const labels = level.map((node) => node.label);
  if (labels.length < 2 || (kind !== "run" && kind !== "lot")) return labels;
  return labels.map((label, at) =>
    at === 0 ? label.replace(kind, `${kind}s`) : label.replace(`${kind} `, "")
  );
}

function batches(level: readonly Node[], units: ReaderUnits): string {
  const byLabel = new Map<string, number>();
  for (const node of level) byLabel.set(node.label, (byLabel.get(node.label) ?? 0) + node.massG);
  return listWords([...byLabel].map(([label, massG]) => `${weight(massG, units)} of ${label}`));
}

function days(level: readonly Node[]): string {
  return stretchWords(Math.floor(level[0]!.day), Math.floor(level.at(-1)!.day));
}

function weight(massG: number, units: ReaderUnits): string {
  return maltWeightWords(massG, units);
}
