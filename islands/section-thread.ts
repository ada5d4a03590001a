import { maltWeightWords } from "../core/year/words.ts";
import { type Box, labelBox, placeLabels, type Wish } from "./_charts/label-placement.ts";
import { rings, threadPath } from "./thread.ts";
import type { Lineage, Traced } from "./trace-graph.ts";

const SVG = "http://www.w3.org/2000/svg";
/** More offspring than this are told by their marks alone; words for each would cover the drawing. */
const MOST_NAMED = 12;

/** Draws the thread of a lineage with a ring at each change of form, or takes it away. */
export function drawThread(svg: SVGSVGElement, traced: Traced, lineage: Lineage | null): void {
  const group = svg.querySelector("g.thread");
  if (group === null) return;
  group.replaceChildren();
  if (lineage === null) return;
  group.append(shape("path", { d: threadPath(traced, lineage) }));
  const all = rings(traced, lineage);
  // Where a hundred things are lit, full rings would hide the marks they stand on.
  const r = all.length > 40 ? 2.2 : 3.4;
  for (const [, x, y] of all) group.append(shape("circle", { cx: x, cy: y, r }));
  const named = all.filter(([place]) =>
    place === lineage.self || !lineage.after.has(place) || lineage.after.size <= MOST_NAMED
  );
  const { width, height } = svg.viewBox.baseVal;
  const taken = all.map(([, x, y]): Box => ({ x: x - 4, y: y - 4, width: 8, height: 8 }));
  const wishes = named.map(([place, x, y]) => wish(traced, place, x, y, place === lineage.self));
  for (
    const { text, at, wish } of placeLabels(wishes, {
      x: 148,
      y: 30,
      width: width - 148,
      height: height - 30,
    }, taken)
  ) {
    const words = shape("text", { x: at.x, y: at.y, "text-anchor": at.anchor ?? "start" });
    if (wish.bold) words.classList.add("bold");
    words.textContent = text;
    group.append(words);
  }
}

function wish({ nodes, graph }: Traced, place: number, x: number, y: number, bold: boolean): Wish {
  const node = nodes[place]!;
  const text = node.kind === "batch"
    ? `${maltWeightWords(node.massG, graph.units)} of ${node.label}`
    : node.label;
  const { width } = labelBox(text, { x: 0, y: 0 });
  // A thread that runs on along the ground would strike its own words out, so those stand above it.
  const [, , outX = x, outY = y] = node.at ?? [];
  const onGround = outY === y && outX > x;
  const rises = onGround ? [-6, 14, 4] : [4, -6, 14];
  const beside = [
    ...rises.map((rise) => ({ x: x + 8, y: y + rise })),
    ...rises.map((rise) => ({ x: x - 8, y: y + rise, anchor: "end" as const })),
  ];
  return { text, bold, spots: x + width > 1300 ? beside.toReversed() : beside };
}

function shape(name: string, attributes: Record<string, string | number>): SVGElement {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  return element;
}
