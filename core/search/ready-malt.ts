import type { LineTable } from "./lines.ts";
import type { Supply } from "./supply.ts";

/**
 * One material while promises are chosen, day by day: what is ready and what is claimed of it, grams of extract; of both, how much is
 * home-grown or has to be, for a promise. Raw grain counts by weight.
 */
export class ReadyMalt {
  readyG = 0;
  readyHomeG = 0;
  claimedG = 0;
  claimedHomeG = 0;
  /** Lines that claim of it, in order of day, as far as giving up their claims would free anything. */
  readonly seen: number[] = [];
  private next = 0;
  /** First day on which some ready batch is past its last day; those that are, by their place in the list. */
  private goodUntil = Infinity;
  private readonly gone = new Set<number>();
  private goneG = 0;
  private goneHomeG = 0;
  private spoiltG = 0;
  private spoiltHomeG = 0;
  private spentG = 0;

  /** `list` is in order of readiness. */
  constructor(private readonly list: readonly Supply[]) {}

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
    this.goodUntil = Infinity;
    for (let at = 0; at < this.next; at++) {
      const { last, extractG, home } = this.list[at] as Supply;
      if (this.gone.has(at)) continue;
      if (last >= day) {
        if (last < this.goodUntil) this.goodUntil = last;
        continue;
      }
      this.gone.add(at);
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
    let spent = 0;
    for (; spent < this.seen.length; spent++) {
      const claimG = table.claim[this.seen[spent] as number] as number;
      if (this.spentG + claimG > this.goneG - this.spoiltG + 1e-9) break;
      this.spentG += claimG;
    }
    this.seen.splice(0, spent);
  }
}
