import { c } from "./frame.ts";

/** A height that holds from a place on the axis until the next one. */
export interface Step {
  readonly x: number;
  readonly y: number;
}

/** The upper line of a silhouette as path commands, beginning with a move to its first point. Grain leaves in runs, so it has steps and no curves. */
export function stepLine(steps: readonly Step[], endX: number): string {
  const [first, ...rest] = steps;
  if (first === undefined) return "";
  let y = c(first.y);
  let path = `M${c(first.x)} ${y}`;
  for (const step of rest) {
    if (c(step.y) === y) continue;
    y = c(step.y);
    path += `H${c(step.x)}V${y}`;
  }
  return `${path}H${c(endX)}`;
}

/** The silhouette under a step line, closed along its ground. */
export function stepArea(steps: readonly Step[], endX: number, ground: number): string {
  const first = steps[0];
  if (first === undefined) return "";
  return `${stepLine(steps, endX)}V${c(ground)}H${c(first.x)}Z`;
}

/** The part of a step line between two places, with a step at its very beginning. */
export function cutSteps(steps: readonly Step[], fromX: number, toX: number): Step[] {
  const before = steps.findLast((step) => step.x <= fromX);
  const inside = steps.filter((step) => step.x > fromX && step.x < toX);
  return before === undefined ? inside : [{ x: fromX, y: before.y }, ...inside];
}

/** The ground between an upper and a lower step line, over the same stretch of the axis. */
export function stepBand(upper: readonly Step[], lower: readonly Step[], endX: number): string {
  if (upper[0] === undefined || lower[0] === undefined) return "";
  let back = "";
  for (let index = lower.length - 1; index >= 0; index--) {
    const { x, y } = lower[index]!;
    back += `V${c(y)}H${c(x)}`;
  }
  return `${stepLine(upper, endX)}${back}Z`;
}
