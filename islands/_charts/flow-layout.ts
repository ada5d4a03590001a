import { sankey, type SankeyLink, type SankeyNode } from "d3-sankey";
import type { Flow, FlowKind, FlowNode } from "../../core/year/flow.ts";

/** A node of the flow as it stands in the drawing; its height is its dry matter. */
export interface PlacedNode extends FlowNode {
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
  readonly column: number;
  readonly dryG: number;
}

/** A band from the right edge of one node to the left edge of the next. */
export interface PlacedBand {
  readonly from: PlacedNode;
  readonly to: PlacedNode;
  readonly fromY: number;
  readonly toY: number;
  readonly width: number;
  readonly dryG: number;
  readonly massG: number;
}

export interface FlowLayout {
  readonly nodes: readonly PlacedNode[];
  readonly bands: readonly PlacedBand[];
  readonly columns: number;
  readonly height: number;
}

export const NODE_WIDTH = 5;
/** Room for one line of words between two nodes. */
const NODE_GAP = 13;
/** Height by the column that holds most nodes. */
const ROW = 28;
const LEAST_HEIGHT = 320;
/** Weights under a kilogram of dry matter would be hair lines; the table has them. */
const LEAST_G = 1000;

interface Extra {
  readonly node: FlowNode;
}
type LaidNode = SankeyNode<Extra, { dryG: number; massG: number }>;
type LaidLink = SankeyLink<Extra, { dryG: number; massG: number }>;

const COLUMN: Partial<Record<FlowKind, number>> = { lot: 1, malt: 2, grist: 3 };

/** Lays the year's flow out from field on the left to glass on the right; where something ends, it ends in the next column. */
export function layoutFlow(flow: Flow, width: number): FlowLayout {
  const links = flow.links.filter(({ dryG, from, to }) => dryG >= LEAST_G && from !== to);
  const used = new Set(links.flatMap(({ from, to }) => [from, to]));
  const nodes = flow.nodes.filter(({ id }) => used.has(id));
  if (nodes.length === 0) return { nodes: [], bands: [], columns: 0, height: 0 };
  const columns = columnsOf(nodes, links);
  const count = Math.max(...columns.values()) + 1;
  const fullest = Math.max(
    ...Array.from(
      { length: count },
      (_, one) => [...columns.values()].filter((other) => other === one).length,
    ),
  );
  const height = Math.max(LEAST_HEIGHT, fullest * ROW);
  const laid = sankey<Extra, { dryG: number; massG: number }>()
    .nodeId((one) => (one as LaidNode).node.id)
    .nodeAlign((one) => columns.get((one as LaidNode).node.id) ?? 0)
    .nodeWidth(NODE_WIDTH).nodePadding(NODE_GAP).extent([[1, 8], [width - 1, height - 8]]).iterations(24)({
      nodes: nodes.map((node) => ({ node })),
      links: links.map(({ from, to, dryG, massG }) => ({
        source: from,
        target: to,
        value: dryG,
        dryG,
        massG,
      })),
    });
  const placed = new Map(laid.nodes.map((one) => [one.node.id, placedNode(one, columns)]));
  return {
    nodes: [...placed.values()],
    bands: laid.links.map((one) => placedBand(one, placed)),
    columns: count,
    height,
  };
}

/** Sources stand one column before what they feed first, losses and ends one column after what feeds them last. */
function columnsOf(nodes: readonly FlowNode[], links: Flow["links"]): Map<string, number> {
  const columns = new Map(
    nodes.flatMap(({ id, kind }) => COLUMN[kind] === undefined ? [] : [[id, COLUMN[kind]] as const]),
  );
  for (const { id, kind } of nodes) {
    if (kind !== "source") continue;
    const fed = links.filter(({ from }) => from === id).map(({ to }) => columns.get(to) ?? 1);
    columns.set(id, Math.max(0, Math.min(...fed) - 1));
  }
  for (const { id, kind } of nodes) {
    if (kind !== "loss" && kind !== "end") continue;
    const feeding = links.filter(({ to }) => to === id).map(({ from }) => columns.get(from) ?? 0);
    columns.set(id, Math.max(...feeding) + 1);
  }
  return columns;
}

function placedNode(one: LaidNode, columns: ReadonlyMap<string, number>): PlacedNode {
  return {
    ...one.node,
    x: one.x0 ?? 0,
    top: one.y0 ?? 0,
    bottom: one.y1 ?? 0,
    column: columns.get(one.node.id) ?? 0,
    dryG: one.value ?? 0,
  };
}

function placedBand(one: LaidLink, placed: ReadonlyMap<string, PlacedNode>): PlacedBand {
  return {
    from: placed.get((one.source as LaidNode).node.id)!,
    to: placed.get((one.target as LaidNode).node.id)!,
    fromY: one.y0 ?? 0,
    toY: one.y1 ?? 0,
    width: one.width ?? 0,
    dryG: one.dryG,
    massG: one.massG,
  };
}
