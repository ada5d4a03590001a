import type { YearParts } from "./draw.ts";
import { flowBeer } from "./flow-beer.ts";
import { flowGrain } from "./flow-grain.ts";
import { flowMalt } from "./flow-malt.ts";

export type FlowKind =
  /** Where dry matter comes in: a planting, a store's opening content, something bought, bound water. */
  | "source"
  /** What it passes through: a lot, a malt, a beer's grist. */
  | "lot"
  | "malt"
  | "grist"
  /** Where it ends: lost, sold, fed, left, drunk. */
  | "loss"
  | "end";

export interface FlowNode {
  readonly id: string;
  readonly label: string;
  readonly kind: FlowKind;
}

/** `dryG`: grams of dry matter, which is what balances. `massG`: the same as it is weighed, water included. */
export interface FlowLink {
  readonly from: string;
  readonly to: string;
  readonly dryG: number;
  readonly massG: number;
}

/** From wort on it is volume that is followed: litres into each beer's tanks, litres lost by place, litres packaged. */
export interface FlowVolume {
  readonly beerId: string;
  readonly beerName: string;
  readonly wortL: number;
  readonly losses: readonly { readonly name: string; readonly volumeL: number }[];
  readonly packagedL: number;
}

/** The year's grain from field to glass, from the first to the last day shown. */
export interface Flow {
  readonly fromDay: number;
  readonly toDay: number;
  readonly nodes: readonly FlowNode[];
  readonly links: readonly FlowLink[];
  /** Water dried off at harvest: weight without dry matter, so it stands beside the balance. By planting. */
  readonly water: readonly { readonly from: string; readonly massG: number }[];
  readonly volumes: readonly FlowVolume[];
}

/** Adds up links between the same two nodes, so that sixty runs are one band. */
export class FlowMaker {
  readonly #nodes = new Map<string, FlowNode>();
  readonly #links = new Map<string, { from: string; to: string; dryG: number; massG: number }>();
  readonly water: { from: string; massG: number }[] = [];

  node(id: string, label: string, kind: FlowKind): string {
    if (!this.#nodes.has(id)) this.#nodes.set(id, { id, label, kind });
    return id;
  }

  link(from: string, to: string, dryG: number, massG: number): void {
    if (Math.abs(dryG) < 1e-6) return;
    const key = `${from} ${to}`;
    const link = this.#links.get(key) ?? { from, to, dryG: 0, massG: 0 };
    link.dryG += dryG;
    link.massG += massG;
    this.#links.set(key, link);
  }

  /** Nodes that carry something, and the links. */
  result(): { nodes: FlowNode[]; links: FlowLink[] } {
    const links = [...this.#links.values()];
    const used = new Set(links.flatMap((one) => [one.from, one.to]));
    return { nodes: [...this.#nodes.values()].filter((one) => used.has(one.id)), links };
  }
}

/** The flow of the shown horizon: what was there on its first day and came in, to what is there on its last day and went out. */
export function flowIn(parts: YearParts): Flow {
  const maker = new FlowMaker();
  flowGrain(parts, maker);
  flowMalt(parts, maker);
  const volumes = flowBeer(parts, maker);
  return {
    fromDay: parts.journal.firstDay,
    toDay: parts.journal.lastDay,
    ...maker.result(),
    water: maker.water,
    volumes,
  };
}
