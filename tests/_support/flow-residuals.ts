import type { Flow } from "../../core/year/flow.ts";

/**
 * How far each node that passes dry matter on is from closing: in less out, in grams, with what went in. Every branch is
 * reckoned on its own, so this is a real check; the limit is 0.1 % of what went in (whole grams leave a few).
 */
export function flowResiduals(flow: Flow): { id: string; inG: number; residualG: number }[] {
  return flow.nodes
    .filter((node) => node.kind === "lot" || node.kind === "malt" || node.kind === "grist")
    .map((node) => {
      const inG = flow.links.filter((one) => one.to === node.id).reduce((sum, one) => sum + one.dryG, 0);
      const outG = flow.links.filter((one) => one.from === node.id).reduce((sum, one) => sum + one.dryG, 0);
      return { id: node.id, inG, residualG: inG - outG };
    });
}
