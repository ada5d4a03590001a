/** Longest id the file takes. */
const LONGEST_ID = 40;
const TAIL = "tail-";

/** Names for copies of rows: ids that nothing in the old season or the new one has, and that no repeat of a brew needs. */
export class CopyIds {
  readonly #taken: Set<string>;
  /** The id of a row, and the ids of its copies. */
  readonly copies = new Map<string, string[]>();

  constructor(taken: Iterable<string>) {
    this.#taken = new Set(taken);
  }

  /** A new id for a copy of a row: its own with `-r2`, `-r3` and so on behind, cut to fit. */
  copyOf(id: string, longest = LONGEST_ID): string {
    const [, stem, number] = /^(.*?)(?:-r(\d{1,4}))?$/.exec(id)!;
    for (let count = Number(number ?? 1) + 1;; count++) {
      const ending = `-r${count}`;
      const copy = stem!.slice(0, longest - ending.length) + ending;
      if (this.#isTaken(copy)) continue;
      this.#taken.add(copy);
      this.copies.set(id, [...this.copies.get(id) ?? [], copy]);
      return copy;
    }
  }

  /** Also taken is what the tail calls the repeat of a brew, and the brew whose repeat would bear this name. */
  #isTaken(id: string): boolean {
    return this.#taken.has(id) || this.#taken.has(TAIL + id) ||
      (id.startsWith(TAIL) && this.#taken.has(id.slice(TAIL.length)));
  }
}
