import type { Node } from "../../core/year/trace.ts";
import type { Year } from "../../core/year/year.ts";
import { STICK } from "./brews-layout.ts";
import { c } from "./frame.ts";
import { STAIR } from "./malthouse-layout.ts";
import type { SectionLayout } from "./section-layout.ts";

/** Where the thread enters and leaves a thing of the drawing. */
export type Knot = readonly [inX: number, inY: number, outX: number, outY: number];

/** Bands from the top: the order in which up and down lead on where a chain ends. */
export const BAND = { fields: 0, stores: 1, malthouse: 2, malt: 3, brews: 4 } as const;

export interface Place {
  readonly band: number;
  readonly knot: Knot;
}

/** The knots of all things that have a mark in the drawing, by their id in the trace. */
export function knotsOf(year: Year, layout: SectionLayout): Map<string, Place> {
  const { frame } = layout;
  const knots = new Map<string, Place>();
  const put = (node: string, band: number, knot: Knot) => {
    if (!knots.has(node)) knots.set(node, { band, knot: knot.map(c) as unknown as Knot });
  };
  const { rows, past } = layout.fields;
  for (const { plantings, ground } of rows) {
    for (const one of plantings) {
      const x = frame.x(one.cut?.from ?? one.harvest.likely);
      put(one.node, BAND.fields, [x, ground, x, ground]);
    }
  }
  for (const [index, one] of past.entries()) {
    // Last year's fields have no line of their own, so their rings stand down the left edge of the band.
    const y = layout.fields.top + 12 +
      index * Math.max(8, (layout.fields.bottom - layout.fields.top - 20) / past.length);
    put(one.node, BAND.fields, [frame.left, y, frame.left, y]);
  }
  for (const { row, ground } of layout.stores.places) {
    for (const { node, from, to } of row.stays) {
      if (to >= frame.fromDay && from < frame.toDay) {
        put(node, BAND.stores, [frame.x(from), ground, frame.x(to), ground]);
      }
    }
    for (const { node, day, kind } of row.departures) {
      const x = frame.x(day + 1) - 4;
      if (kind === "feed" || kind === "seed" || kind === "sold") {
        put(node, BAND.stores, [x, ground + 3, x, ground + 3]);
      }
    }
  }
  putRunsAndMalt(year, layout, put);
  for (const { brew, left, width } of layout.brews.sticks) {
    const x = left + width / 2, y = layout.brews.ground - STICK;
    put(brew.node, BAND.brews, [x, y, x, y]);
  }
  return knots;
}

type Put = (node: string, band: number, knot: Knot) => void;

function putRunsAndMalt(year: Year, { frame, malthouse, malt }: SectionLayout, put: Put): void {
  const groundOf = (maltId: string | null) =>
    malt.places.find(({ row }) => row.maltId === maltId)?.ground ?? malt.bought?.ground ?? malt.bottom;
  for (const { runs, top } of malthouse.lines) {
    for (const run of runs) {
      const start = run.stages[0]?.start ?? 0, end = run.stages.at(-1)?.end ?? start;
      if (end <= frame.fromDay || start >= frame.toDay) continue;
      put(run.node, BAND.malthouse, [frame.x(start), top, frame.x(end), top + STAIR]);
      for (const out of run.outputs) {
        const y = groundOf(out.maltId);
        put(out.node, BAND.malt, [frame.x(end), y, frame.x(out.readyDay), y]);
      }
    }
  }
  const batches = new Map(
    year.graph.nodes.filter(({ kind }) => kind === "batch").map((node) => [node.id, node]),
  );
  for (
    const { row, ground } of [
      ...malt.places,
      ...(malt.bought?.rows ?? []).map((row) => ({ row, ground: malt.bought!.ground - 7 })),
    ]
  ) {
    for (const order of row.orders) {
      const from = frame.x(order.orderDay), to = frame.x(order.arriveDay), y = ground + 6.5;
      put(order.node, BAND.malt, [from, y, to, y]);
      for (const edge of year.graph.edges.filter(({ from }) => from === order.node)) {
        if (batches.has(edge.to)) put(edge.to, BAND.malt, [to, ground, to, ground]);
      }
    }
  }
  for (const node of batches.values()) {
    put(node.id, BAND.malt, openingKnot(node, year, groundOf, frame.x(node.day)));
  }
}

/** Malt that lay in the store at the beginning, told by its name, because nothing on the drawing made it. */
function openingKnot(node: Node, year: Year, groundOf: (maltId: string | null) => number, x: number): Knot {
  const row = year.malt.rows.find(({ name }) =>
    node.label.toLowerCase().includes(name.toLowerCase().replace(/ malt$/, ""))
  );
  const y = groundOf(row?.maltId ?? null);
  return [x, y, x, y];
}
