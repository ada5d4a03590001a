import type { Edge, Graph, NodeKind } from "../core/year/trace.ts";
import type { ReaderUnits } from "../core/units.ts";

/**
 * What the page tells the browser about the section: its things and how they come from one another. Kept as short
 * rows, because it is sent with every drawing.
 */
export interface TraceData {
  readonly units: ReaderUnits;
  /** A node of the graph, and where it has a mark in the drawing: band from the top, thread in and thread out. */
  readonly nodes: readonly (readonly (string | number | null)[])[];
  /** From the older thing to the younger one, as places in `nodes`, with grams and day. */
  readonly edges: readonly (readonly [from: number, to: number, massG: number, day: number])[];
}

/** A thing of the drawing. */
export interface TraceNode {
  readonly id: string;
  readonly kind: NodeKind;
  readonly label: string;
  readonly massG: number;
  /** Where it stands in the drawing, when it has a mark there: where its thread comes in and where it leaves. */
  readonly at?: readonly [inX: number, inY: number, outX: number, outY: number];
  /** Band of the drawing, counted from the top. */
  readonly band: number;
}

/** The rows that came with the page, as things and as the graph that core traces. */
export interface Traced {
  readonly nodes: readonly TraceNode[];
  readonly edges: readonly (readonly [from: number, to: number])[];
  readonly graph: Graph;
}

/** Reads the rows of a page. */
export function readTrace(data: TraceData): Traced {
  const whole = data.nodes.map((row) => {
    const [id, kind, refId, day, label, massG, homeShare] = row as [
      string,
      NodeKind,
      string,
      number,
      string,
      number,
      number | null,
    ];
    return { id, kind, refId, day, label, place: null, massG, homeShare };
  });
  const nodes = whole.map(({ id, kind, label, massG }, place): TraceNode => {
    const [band, ...at] = data.nodes[place]!.slice(7) as number[];
    const node = { id, kind, label, massG, band: band ?? -1 };
    return band === undefined ? node : { ...node, at: at as unknown as [number, number, number, number] };
  });
  const edges = data.edges.map(([from, to, massG, day]): Edge => ({
    from: whole[from]!.id,
    to: whole[to]!.id,
    massG,
    day,
  }));
  return {
    nodes,
    edges: data.edges.map(([from, to]) => [from, to]),
    graph: { units: data.units, nodes: whole, edges },
  };
}

/** A thing with all that went into it and all that came of it, as places in the list of nodes. */
export interface Lineage {
  readonly self: number;
  readonly before: ReadonlySet<number>;
  readonly after: ReadonlySet<number>;
}

/** The edges of a graph by their ends, so that each step is one look-up. */
export interface Neighbours {
  readonly parents: readonly (readonly number[])[];
  readonly children: readonly (readonly number[])[];
}

/** Sorts the edges by their ends. */
export function neighboursOf({ nodes, edges }: Pick<Traced, "nodes" | "edges">): Neighbours {
  const parents: number[][] = nodes.map(() => []);
  const children: number[][] = nodes.map(() => []);
  for (const [from, to] of edges) {
    parents[to]?.push(from);
    children[from]?.push(to);
  }
  return { parents, children };
}

/** The whole ancestry and offspring of a thing; what only shares a parent with it is no kin in this sense. */
export function lineageOf(self: number, { parents, children }: Neighbours): Lineage {
  return { self, before: reach(self, parents), after: reach(self, children) };
}

function reach(start: number, next: readonly (readonly number[])[]): Set<number> {
  const found = new Set<number>();
  const open = [start];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    for (const other of next[at] ?? []) {
      if (other === start || found.has(other)) continue;
      found.add(other);
      open.push(other);
    }
  }
  return found;
}

/** Ways the arrow keys lead. */
export type Way = "left" | "right" | "up" | "down";

/**
 * The thing one key press away: left and right in time inside a band, up to what it was made of and down to what
 * came of it. Where the chain ends, up and down lead to the nearest thing of the next band that has one. Null at
 * the edge of the drawing.
 */
export function stepFrom(
  self: number,
  way: Way,
  data: Pick<Traced, "nodes">,
  kin: Neighbours,
): number | null {
  if (way === "left" || way === "right") return beside(self, way === "right" ? 1 : -1, data.nodes);
  const next = (way === "up" ? kin.parents : kin.children)[self]?.filter((other) => data.nodes[other]?.at);
  const x = data.nodes[self]?.at?.[0] ?? 0;
  return nearest(next ?? [], x, data.nodes) ?? nextBand(self, x, way === "up" ? -1 : 1, data.nodes);
}

function beside(self: number, direction: 1 | -1, nodes: readonly TraceNode[]): number | null {
  const row = places(nodes).filter((other) => nodes[other]?.band === nodes[self]?.band)
    .sort((a, b) => (nodes[a]?.at?.[0] ?? 0) - (nodes[b]?.at?.[0] ?? 0) || a - b);
  return row[row.indexOf(self) + direction] ?? null;
}

function nextBand(self: number, x: number, direction: 1 | -1, nodes: readonly TraceNode[]): number | null {
  const band = nodes[self]?.band ?? 0;
  const further = places(nodes).map((other) => nodes[other]?.band ?? 0).filter((other) =>
    (other - band) * direction > 0
  );
  const target = direction > 0 ? Math.min(...further) : Math.max(...further);
  return nearest(places(nodes).filter((other) => nodes[other]?.band === target), x, nodes);
}

function nearest(from: readonly number[], x: number, nodes: readonly TraceNode[]): number | null {
  let best: number | null = null;
  const far = (other: number) => Math.abs((nodes[other]?.at?.[0] ?? Infinity) - x);
  for (const other of from) if (best === null || far(other) < far(best)) best = other;
  return best;
}

function places(nodes: readonly TraceNode[]): number[] {
  return nodes.flatMap((node, place) => node.at === undefined ? [] : [place]);
}
