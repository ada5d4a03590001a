import type { Lineage, Traced, TraceNode } from "./trace-graph.ts";

/** The thread that ties a thing to its kin, as one path: along the ground until the day, then straight down. */
export function threadPath({ nodes, edges }: Pick<Traced, "nodes" | "edges">, kin: Lineage): string {
  const lit = (place: number) => place === kin.self || kin.before.has(place) || kin.after.has(place);
  // A side branch between two ancestors is part of the chain; one from an ancestor to a stranger is not.
  const drawn = edges.filter(([from, to]) => lit(from) && lit(to));
  return [...new Set(drawn.map(([from, to]) => leg(nodes[from], nodes[to])))].join("");
}

function leg(from: TraceNode | undefined, to: TraceNode | undefined): string {
  if (from?.at === undefined || to?.at === undefined) return "";
  const [inX, inY, outX, outY] = from.at;
  const startX = inY === outY ? inX : outX;
  return `M${startX} ${outY}H${to.at[0]}V${to.at[1]}`;
}

/** Where rings stand on the thread: at each change of form that is lit. */
export function rings(
  { nodes }: Pick<Traced, "nodes">,
  kin: Lineage,
): readonly (readonly [place: number, x: number, y: number])[] {
  return [...kin.before, kin.self, ...kin.after].flatMap((place) => {
    const at = nodes[place]?.at;
    return at === undefined ? [] : [[place, at[0], at[1]] as const];
  });
}
