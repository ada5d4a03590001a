import type { LineTable } from "./lines.ts";
import type { Supply } from "./supply.ts";

/**
 * One material while promises are chosen, day by day: what is ready and what is claimed of it, grams of extract; of both, how much is
 * home-grown or has to be, for a promise. Raw grain counts by weight. One serves many counts.
 */
export class ReadyMalt {
  readyG = 0;
  readyHomeG = 0;
  claimedG = 0;
  claimedHomeG = 0;
  /** Lines that claim of it, in order of day; those before `from` would free nothing by giving up their claims. */
  readonly seen: number[] = [];
  from = 0;
  private list: readonly Supply[] = [];
  private next = 0;
  /** First day on which some ready batch is past its last day; those that are, by their place in the list. */
  private goodUntil = Infinity;
  private gone = new Uint8Array(16);
  private goneG = 0;
  private goneHomeG = 0;
  private spoiltG = 0;
  private spoiltHomeG = 0;
  private spentG = 0;

  /** Begins anew with other batches; `list` is in order of readiness. */
  reset(list: readonly Supply[]): void {
    this.list = list;
    this.readyG =
      this.readyHomeG =
      this.claimedG =
      this.claimedHomeG =
        0;
    this.seen.length = 0;
    this.from = this.next = 0;
    this.goodUntil = Infinity;
    this.goneG =
      this.goneHomeG =
      this.spoiltG =
      this.spoiltHomeG =
      this.spentG =
        0;
    if (this.gone.length < list.length) this.gone = new Uint8Array(2 * list.length);
    else this.gone.fill(0, 0, list.length);
  }

  /** Walks to a day: batches become ready, and what nobody has claimed of those past their last day is lost. */
  comeTo(day: number, table: LineTable): void {
    for (let coming = this.list[this.next]; coming !== undefined && coming.ready <= day;) {
      this.readyG += coming.extractG;
      if (coming.home) this.readyHomeG += coming.extractG;
      if (coming.last < this.goodUntil) this.goodUntil = coming.last;
      coming = this.list[++this.next];
    }
    if (this.goodUntil < day) this.spoil(day, table);
  }

  private spoil(day: number, table: LineTable): void {
    const { gone } = this;
    this.goodUntil = Infinity;
    for (let at = 0; at < this.next; at++) {
      if (gone[at] === 1) continue;
      const { last, extractG, home } = this.list[at] as Supply;
      if (last >= day) {
        if (last < this.goodUntil) this.goodUntil = last;
        continue;
      }
      gone[at] = 1;
      this.goneG += extractG;
      if (home) this.goneHomeG += extractG;
    }
    const unclaimed = Math.max(0, this.goneG - this.spoiltG - this.claimedG);
    const unclaimedHome = Math.max(0, this.goneHomeG - this.spoiltHomeG - this.claimedHomeG);
    this.spoiltG += unclaimed;
    this.readyG -= unclaimed;
    this.spoiltHomeG += unclaimedHome;
    this.readyHomeG -= unclaimedHome;
    // Whoever was served of what has gone would free nothing by giving it up.
    for (; this.from < this.seen.length; this.from++) {
      const claimG = table.claim[this.seen[this.from] as number] as number;
      if (this.spentG + claimG > this.goneG - this.spoiltG + 1e-9) break;
      this.spentG += claimG;
    }
  }
}
