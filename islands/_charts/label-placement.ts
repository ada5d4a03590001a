import { BoxIndex } from "./box-index.ts";
import { crowdsOf, nearest, spotsOf } from "./label-crowds.ts";
import { findLeader, type Leader } from "./label-leader.ts";
import { textWidth } from "./text-width.ts";

/** A rectangle of the drawing; x and y are its upper left corner. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Ground that words keep clear of; a thread is a thin line that some words may break. */
export interface Obstacle extends Box {
  readonly thread?: boolean;
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Where a label may stand: its anchor point on the base line of the type. */
export interface Spot extends Point {
  readonly anchor?: "start" | "middle" | "end";
  /** Class of the words' look at this spot, where it is not the label's own: the ground under them may differ. */
  readonly look?: string;
}

/** Fewer words for the same thing; a pair holds those in the label's own weight and the plain ones behind them. */
export type Wording = string | readonly [text: string, after: string];

/** Words that want a place beside a mark. Spots are tried in order. */
export interface Wish {
  readonly text: string;
  /** Words in plain weight behind a bold text. */
  readonly after?: string;
  readonly bold?: boolean;
  readonly size?: number;
  /** Letter set in bold before the text, such as a lot's. */
  readonly letter?: string;
  readonly spots: readonly Spot[];
  /** Shorter words, tried at every spot when the full ones fit nowhere. */
  readonly shorter?: readonly Wording[];
  /** Labels of a lower rank are placed first; 5 when not given. */
  readonly rank?: number;
  /** Ground the label keeps to; the whole drawing when not given. */
  readonly within?: Box;
  /** The mark's own point: with it a label that fits at none of its spots may stand away and is led back by a line. */
  readonly mark?: Point;
  /** Labels of one crowd that fit nowhere are counted where they would have stood: "+2". */
  readonly crowd?: string;
  /** Least clear space to other words on one line. */
  readonly gap?: number;
  /** Stands over threads if it has to: its halo breaks them, as a draughtsman breaks a line at words. */
  readonly mayCross?: boolean;
}

/** A label with the place it was given. */
export interface Placed<W extends Wish = Wish> extends Box {
  readonly wish: W;
  readonly text: string;
  readonly after: string;
  readonly letter: string;
  readonly at: Spot;
  readonly leader: Leader | null;
  /** Wishes that a count stands for; empty for a label of its own. */
  readonly counts: readonly W[];
}

/** Usual type size of the section, in units of the drawing: 11.5 px at its natural width. */
export const TYPE = 11.5;
/** The rank of what has one place only, such as the year's worst shortage: it never steps aside. */
export const FIRST = -1;
/** Part of the type size that stands above and below the base line. */
const ASCENT = 0.74, DESCENT = 0.22;
/** Least clear space between two labels on one line. */
const GAP = 4;
/** The rectangle that words fill when set at a spot. */
export function labelBox(text: string, spot: Spot, size = TYPE, bold = false, letter = "", after = ""): Box {
  const width = textWidth(text, size, bold) + textWidth(after, size) +
    (letter === "" ? 0 : textWidth(text === "" ? letter : `${letter} `, size, true));
  const x = spot.anchor === "end" ? spot.x - width : spot.anchor === "middle" ? spot.x - width / 2 : spot.x;
  return { x, y: spot.y - size * ASCENT, width, height: size * (ASCENT + DESCENT) };
}

/** True when two rectangles share ground, or stand closer side by side than two words should. */
export function overlap(a: Box, b: Box, gap = GAP): boolean {
  return a.x < b.x + b.width + gap && b.x < a.x + a.width + gap && a.y < b.y + b.height &&
    b.y < a.y + a.height;
}

/**
 * Gives each wish the first of its spots that lies inside its ground and touches neither a label placed before it nor
 * anything in `taken`: lower ranks first, then as listed. What fits at no spot, in no wording, is led to its mark by a
 * line if it has one; else it is counted with its crowd, or left out where it belongs to none. The words of every label
 * stand in its mark's accessible name too.
 */
export function placeLabels<W extends Wish>(
  wishes: readonly W[],
  bounds: Box,
  taken: readonly Obstacle[] = [],
  gap = GAP,
): Placed<W>[] {
  const index = new BoxIndex<Placed<W> | null | typeof THREAD>();
  for (const box of taken) index.add(box, Math.min(gap, 1), box.thread ? THREAD : null);
  const placed = new Set<Placed<W>>();
  const lost: W[] = [];
  const put = (label: Placed<W>) => {
    placed.add(label);
    index.add(label, label.wish.gap ?? gap, label);
    for (const box of label.leader?.boxes ?? []) index.add(box, 0.5, label);
  };
  for (const wish of wishes.toSorted((a, b) => (a.rank ?? 5) - (b.rank ?? 5))) {
    const found = atSpots(wish, bounds, index, gap) ?? awayFromMark(wish, bounds, index, gap);
    if (found === null) lost.push(wish);
    else put(found);
  }
  for (const crowd of crowdsOf(lost)) countCrowd(crowd);
  return [...placed];

  /** Stands a count where words are missing; while there is no room for it, one more label joins those it counts. */
  function countCrowd(crowd: W[]): void {
    const counted = [...crowd];
    for (;;) {
      const wish = { ...counted[0]!, ...COUNT_LOOK, text: `+${counted.length}`, spots: spotsOf(counted) };
      const found = atSpots(wish, bounds, index, gap);
      if (found !== null) return put({ ...found, counts: counted });
      const near = nearest(counted, [...placed].filter((one) => one.counts.length === 0));
      if (near === undefined) return joinCount(counted);
      placed.delete(near);
      index.remove(near);
      counted.push(near.wish);
    }
  }

  /** Where there is room for no further count, the nearest one speaks for these too. */
  function joinCount(counted: W[]): void {
    const { x, y } = counted[0]!.spots[0]!;
    // Down counts for more than across: a count of another band would speak of other things.
    const far = (label: Placed<W>) => Math.abs(label.x - x) + 12 * Math.abs(label.at.y - y);
    const nearest =
      [...placed].filter(({ counts }) => counts.length > 0).toSorted((a, b) => far(a) - far(b))[0];
    if (nearest === undefined) return;
    placed.delete(nearest);
    const counts = [...nearest.counts, ...counted];
    placed.add({ ...nearest, counts, text: `+${counts.length}` });
  }
}

/** A count says only how many; it takes no letter, no leader and no lesser words from the label it stands for. */
const COUNT_LOOK = { after: "", letter: "", shorter: [], bold: true, size: TYPE } as const;

const THREAD = "thread";

/** Whether a box of a wish stands on its own ground and touches nothing that it may not cross. */
function fitsAt(wish: Wish, box: Box, bounds: Box, index: BoxIndex<unknown>, gap: number): boolean {
  return inside(box, wish.within ?? bounds) &&
    index.isFree(box, wish.gap ?? gap, (owner) => !(wish.mayCross && owner === THREAD));
}

function atSpots<W extends Wish>(
  wish: W,
  bounds: Box,
  index: BoxIndex<unknown>,
  gap: number,
): Placed<W> | null {
  for (const [text, after] of wordings(wish)) {
    for (const at of wish.spots) {
      const box = labelBox(text, at, wish.size, wish.bold, wish.letter, after);
      if (fitsAt(wish, box, bounds, index, gap)) {
        return { ...box, wish, text, after, letter: wish.letter ?? "", at, leader: null, counts: [] };
      }
    }
  }
  return null;
}

function awayFromMark<W extends Wish>(
  wish: W,
  bounds: Box,
  index: BoxIndex<unknown>,
  gap: number,
): Placed<W> | null {
  const { mark } = wish;
  if (mark === undefined) return null;
  for (const [text, after] of wordings(wish)) {
    const boxAt = (at: Spot) => labelBox(text, at, wish.size, wish.bold, wish.letter, after);
    const fits = (box: Box) => fitsAt(wish, box, bounds, index, gap);
    const found = findLeader(
      mark,
      boxAt,
      fits,
      (box) => index.isFree(box, 0.5, (owner) => owner !== null && owner !== THREAD),
    );
    if (found !== null) {
      const { at, leader } = found;
      return { ...boxAt(at), wish, text, after, letter: wish.letter ?? "", at, leader, counts: [] };
    }
  }
  return null;
}

function wordings({ text, after, shorter }: Wish): (readonly [string, string])[] {
  return [
    [text, after ?? ""],
    ...(shorter ?? []).map((one) => typeof one === "string" ? [one, ""] as const : one),
  ];
}

function inside(box: Box, bounds: Box): boolean {
  return box.x >= bounds.x && box.x + box.width <= bounds.x + bounds.width && box.y >= bounds.y &&
    box.y + box.height <= bounds.y + bounds.height;
}
