import type { Box, Point, Spot } from "./label-placement.ts";

/** A line from a label's edge to its mark, with the small rectangles it runs through. */
export interface Leader {
  readonly from: Point;
  readonly to: Point;
  readonly boxes: readonly Box[];
}

/** How far a label may stand from its mark, in steps down or up and to the side, nearest first. */
const DROPS = [16, -14, 28, -26, 40, -38, 54, -52, 70];
const SHIFTS = [12, 30, 60, 100, 150];

/**
 * The nearest place away from a mark at which a label fits and from which a line reaches the mark without crossing
 * other words; null when there is none.
 */
export function findLeader(
  mark: Point,
  boxAt: (at: Spot) => Box,
  fits: (box: Box) => boolean,
  isClear: (box: Box) => boolean,
): { readonly at: Spot; readonly leader: Leader } | null {
  const places = DROPS.flatMap((drop) =>
    SHIFTS.flatMap((shift): (Spot & { far: number })[] => [
      { x: mark.x + shift, y: mark.y + drop, far: Math.abs(drop) * 2 + shift },
      { x: mark.x - shift, y: mark.y + drop, anchor: "end", far: Math.abs(drop) * 2 + shift },
    ])
  ).toSorted((a, b) => a.far - b.far);
  for (const { x, y, anchor } of places) {
    const at: Spot = anchor === undefined ? { x, y } : { x, y, anchor };
    const box = boxAt(at);
    if (!fits(box)) continue;
    const leader = leaderOf(mark, box);
    if (leader.boxes.every(isClear)) return { at, leader };
  }
  return null;
}

/** From the middle of the label's nearer side, with a little air, straight to the mark. */
function leaderOf(mark: Point, box: Box): Leader {
  const middle = box.y + box.height / 2;
  const left = box.x - 2, right = box.x + box.width + 2;
  const from = Math.abs(mark.x - left) < Math.abs(mark.x - right)
    ? { x: left, y: middle }
    : { x: right, y: middle };
  const steps = Math.max(1, Math.ceil(Math.hypot(mark.x - from.x, mark.y - from.y) / 4));
  const boxes = Array.from({ length: steps }, (_, step): Box => {
    const part = (step + 0.5) / steps;
    return {
      x: from.x + (mark.x - from.x) * part - 1,
      y: from.y + (mark.y - from.y) * part - 1,
      width: 2,
      height: 2,
    };
  });
  return { from, to: mark, boxes };
}
