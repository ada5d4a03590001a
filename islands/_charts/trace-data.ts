import type { Year } from "../../core/year/year.ts";
import type { TraceData } from "../trace-graph.ts";
import { knotsOf } from "./knots.ts";
import type { SectionLayout } from "./section-layout.ts";

/** What the browser needs for tracing, as short rows: it is sent with every drawing. */
export function traceData(year: Year, layout: SectionLayout): TraceData {
  const { nodes, edges, units } = year.graph;
  const knots = knotsOf(year, layout);
  const places = new Map(nodes.map(({ id }, place) => [id, place]));
  return {
    units,
    nodes: nodes.map((node) => {
      const place = knots.get(node.id);
      return [
        node.id,
        node.kind,
        node.refId,
        Math.round(node.day * 100) / 100,
        node.label,
        Math.round(node.massG),
        node.homeShare === null ? null : perMille(node.homeShare),
        ...(place === undefined ? [] : [place.band, ...place.knot] as const),
      ];
    }),
    edges: edges.flatMap(({ from, to, massG, day }) => {
      const a = places.get(from), b = places.get(to);
      return a === undefined || b === undefined ? [] : [[a, b, Math.round(massG), day] as const];
    }),
  };
}

/** A share to three places, in which nearly all does not become all, nor a trace nothing. */
function perMille(share: number): number {
  if (share <= 1e-9 || share >= 1 - 1e-9) return Math.round(share);
  return Math.min(0.999, Math.max(0.001, Math.round(share * 1000) / 1000));
}
