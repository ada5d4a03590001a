import { textWidth } from "./text-width.ts";

/** A rectangle of the drawing; x and y are its upper left corner. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where a label may stand: its anchor point on the base line of the type. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly anchor?: "start" | "middle" | "end";
}

/** Words that want a place beside a mark. Spots are tried in order. */
export interface Wish {
  readonly text: string;
  readonly bold?: boolean;
  readonly size?: number;
  /** Letter set in bold before the text, such as a lot's. */
  readonly letter?: string;
  readonly spots: readonly Spot[];
  /** Shorter words for the same thing, tried at every spot when the full ones fit nowhere. */
  readonly shorter?: readonly string[];
}

/** A label with the place it was given. */
export interface Placed<W extends Wish = Wish> extends Box {
  readonly wish: W;
  readonly text: string;
  readonly at: Spot;
}

/** Usual type size of the section, in units of the drawing: 11.5 px at its natural width. */
export const TYPE = 11.5;
/** Part of the type size that stands above and below the base line. */
const ASCENT = 0.74, DESCENT = 0.22;
/** Least clear space between two labels on one line. */
const GAP = 4;

/** The rectangle that words fill when set at a spot. */
export function labelBox(text: string, spot: Spot, size = TYPE, bold = false, letter = ""): Box {
  const width = textWidth(text, size, bold) + (letter === "" ? 0 : textWidth(`${letter} `, size, true));
  const x = spot.anchor === "end" ? spot.x - width : spot.anchor === "middle" ? spot.x - width / 2 : spot.x;
  return { x, y: spot.y - size * ASCENT, width, height: size * (ASCENT + DESCENT) };
}

/** True when two rectangles share ground, or stand closer side by side than two words should. */
export function overlap(a: Box, b: Box, gap = GAP): boolean {
  return a.x < b.x + b.width + gap && b.x < a.x + a.width + gap && a.y < b.y + b.height &&
    b.y < a.y + a.height;
}

/**
 * Gives each wish the first of its spots that lies inside `bounds` and touches neither a label placed before it nor
 * anything in `taken`; earlier wishes come first. A wish that fits nowhere is left out: its words stand in the mark's
 * accessible name and in the lists below the drawing.
 */
export function placeLabels<W extends Wish>(
  wishes: readonly W[],
  bounds: Box,
  taken: readonly Box[] = [],
  gap = GAP,
): Placed<W>[] {
  const filled = [...taken];
  const placed: Placed<W>[] = [];
  for (const wish of wishes) {
    const found = firstFit(wish, bounds, filled, gap);
    if (found === null) continue;
    filled.push(found);
    placed.push(found);
  }
  return placed;
}

function firstFit<W extends Wish>(
  wish: W,
  bounds: Box,
  filled: readonly Box[],
  gap: number,
): Placed<W> | null {
  for (const text of [wish.text, ...(wish.shorter ?? [])]) {
    for (const at of wish.spots) {
      const box = labelBox(text, at, wish.size, wish.bold, wish.letter);
      if (inside(box, bounds) && !filled.some((other) => overlap(box, other, gap))) {
        return { ...box, wish, text, at };
      }
    }
  }
  return null;
}

function inside(box: Box, bounds: Box): boolean {
  return box.x >= bounds.x && box.x + box.width <= bounds.x + bounds.width && box.y >= bounds.y &&
    box.y + box.height <= bounds.y + bounds.height;
}
