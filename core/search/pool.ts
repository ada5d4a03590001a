import type { Supply } from "./supply.ts";

/** Hears what a pool gives: what was left of a batch before and after, grams of extract. */
export interface Taker {
  took(one: Supply, hadG: number, restG: number): void;
}

/** Batches of one malt through time, first in, first out: what is ready and not yet spoilt or used. One pool serves many counts. */
export class Pool {
  /** Grams of extract that may be taken now. */
  extractG = 0;
  /** Grams of malt that lie there. */
  stockG = 0;
  private list: readonly Supply[] = [];
  private left = new Float64Array(16);
  private first = 0;
  private next = 0;

  constructor(private readonly taker: Taker) {}

  /** Begins anew with other batches; `list` is in order of readiness. */
  reset(list: readonly Supply[]): void {
    this.list = list;
    this.extractG = 0;
    this.stockG = 0;
    this.first = 0;
    this.next = 0;
    if (this.left.length < list.length) this.left = new Float64Array(2 * list.length);
  }

  /** Day up to `on` of the next change, be it a batch that becomes ready or one that spoils; Infinity when there is none. */
  nextDay(on: number): number {
    const arrives = this.arrivesBy(on), spoils = this.spoilsBy(on);
    return arrives < spoils ? arrives : spoils;
  }

  /** Makes the change of `nextDay`, of which there has to be one. */
  step(on: number): void {
    if (this.arrivesBy(on) <= this.spoilsBy(on)) {
      const coming = this.list[this.next] as Supply;
      this.left[this.next] = coming.extractG;
      this.stockG += coming.extractG / coming.perG;
      this.extractG += coming.extractG;
      this.next++;
      return;
    }
    const lost = this.left[this.first] as number;
    this.stockG -= lost / (this.list[this.first] as Supply).perG;
    this.extractG -= lost;
    this.first++;
  }

  private arrivesBy(on: number): number {
    const coming = this.list[this.next];
    return coming !== undefined && coming.ready <= on ? coming.ready : Infinity;
  }

  private spoilsBy(on: number): number {
    if (this.first >= this.next) return Infinity;
    const oldest = this.list[this.first] as Supply;
    return oldest.last < on ? oldest.last + 1 : Infinity;
  }

  /** Takes `extractG` of the oldest batches; the taker hears of each. Returns what there was of it. */
  take(extractG: number): number {
    let open = extractG;
    while (open > 1e-9 && this.first < this.next) {
      const one = this.list[this.first] as Supply;
      const had = this.left[this.first] as number;
      const part = open < had ? open : had;
      const rest = had - part;
      this.left[this.first] = rest;
      open -= part;
      this.stockG -= part / one.perG;
      this.extractG -= part;
      this.taker.took(one, had, rest);
      if (rest <= 1e-9) this.first++;
    }
    return extractG - open;
  }
}

/**
 * Fills `keep`, by use in order of day: what must still be there after it for the claims behind it that no later batch covers, grams of
 * extract. `list` is in order of readiness; of `day` and `claimG` the first `count` are meant.
 */
export function keptAfter(
  list: readonly Supply[],
  day: Int32Array,
  claimG: Float64Array,
  count: number,
  keep: Float64Array,
): void {
  let batch = list.length - 1;
  let behind = 0;
  for (let i = count - 1; i >= 0; i--) {
    const on = day[i] as number;
    while (batch >= 0 && (list[batch] as Supply).ready > on) {
      behind = Math.max(0, behind - (list[batch] as Supply).extractG);
      batch--;
    }
    keep[i] = behind;
    behind += claimG[i] as number;
  }
}
