import type { Box } from "./label-placement.ts";

interface Entry<T> {
  readonly box: Box;
  /** Clear space it wants at its sides. */
  readonly gap: number;
  readonly owner: T;
}

/** Size of the fields that the drawing is cut into for looking things up. */
const ACROSS = 64, DOWN = 24;
/** More rows of fields than any drawing has. */
const MOST_ROWS = 4096;

/** Rectangles of the drawing, looked up by where they stand. */
export class BoxIndex<T> {
  readonly #fields = new Map<number, Entry<T>[]>();

  /** Adds a rectangle; `gap` is the clear space it wants to its left and right. */
  add(box: Box, gap: number, owner: T): void {
    const entry = { box, gap, owner };
    for (const field of fieldsOf(box, 0)) {
      const those = this.#fields.get(field);
      if (those === undefined) this.#fields.set(field, [entry]);
      else those.push(entry);
    }
  }

  /** Takes out all that belongs to an owner. */
  remove(owner: T): void {
    for (const [field, those] of this.#fields) {
      this.#fields.set(field, those.filter((one) => one.owner !== owner));
    }
  }

  /** True when nothing shares ground with `box`; between two things the smaller of their gaps is kept. */
  isFree(box: Box, gap: number, counts: (owner: T) => boolean = () => true): boolean {
    for (const field of fieldsOf(box, gap)) {
      for (const { box: other, gap: wanted, owner } of this.#fields.get(field) ?? []) {
        const least = Math.min(gap, wanted);
        if (
          box.y < other.y + other.height && other.y < box.y + box.height &&
          box.x < other.x + other.width + least && other.x < box.x + box.width + least && counts(owner)
        ) return false;
      }
    }
    return true;
  }
}

function fieldsOf({ x, y, width, height }: Box, gap: number): number[] {
  const fields: number[] = [];
  const right = Math.floor((x + width + gap) / ACROSS), bottom = Math.floor((y + height) / DOWN);
  for (let column = Math.floor((x - gap) / ACROSS); column <= right; column++) {
    for (let row = Math.floor(y / DOWN); row <= bottom; row++) fields.push(column * MOST_ROWS + row);
  }
  return fields;
}
