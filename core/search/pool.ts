import type { Supply } from "./supply.ts";

/** Batches of one malt through time, first in, first out: what is ready and not yet spoilt or used. */
export class Pool {
  /** Grams of extract that may be taken now. */
  extractG = 0;
  /** Grams of malt that lie there. */
  stockG = 0;
  private readonly left: Float64Array;
  private first = 0;
  private next = 0;

  /** `list` is in order of readiness. */
  constructor(private readonly list: readonly Supply[]) {
    this.left = new Float64Array(list.length);
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
    const oldest = this.list[this.first];
    return this.first < this.next && oldest !== undefined && oldest.last < on ? oldest.last + 1 : Infinity;
  }

  /** Takes `extractG` of the oldest batches; `taken` hears what was left of each before and after. Returns what there was of it. */
  take(extractG: number, taken: (one: Supply, hadG: number, restG: number) => void): number {
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
      taken(one, had, rest);
      if (rest <= 1e-9) this.first++;
    }
    return extractG - open;
  }
}

/**
 * By use, in order of day: what must still be there after it for the claims behind it that no later batch covers, grams of extract.
 * `list` is in order of readiness.
 */
export function keptAfter(
  list: readonly Supply[],
  uses: readonly { readonly day: number; readonly claimG: number }[],
): Float64Array {
  const keep = new Float64Array(uses.length);
  let batch = list.length - 1;
  let behind = 0;
  for (let i = uses.length - 1; i >= 0; i--) {
    const { day, claimG } = uses[i] as { day: number; claimG: number };
    while (batch >= 0 && (list[batch] as Supply).ready > day) {
      behind = Math.max(0, behind - (list[batch] as Supply).extractG);
      batch--;
    }
    keep[i] = behind;
    behind += claimG;
  }
  return keep;
}
