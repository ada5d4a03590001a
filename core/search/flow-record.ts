import type { Supply } from "./supply.ts";

/** What the flow of one malt was asked, and what came of it; the arrays grow as needed, and only the counted part of each is meant. */
export class FlowRecord {
  batchCount = 0;
  useCount = 0;
  useLine = new Int32Array(16);
  useDay = new Int32Array(16);
  /** Grams of extract that a use claims; and what of it has to be home-grown. */
  useClaimG = new Float64Array(16);
  useHomeG = new Float64Array(16);
  /** Grams of extract that a use asks for. */
  useNeedG = new Float64Array(16);
  /** Home-grown extract that a use was given, what of it came from lots that its brew asks for by name, and what it lacks. */
  homeG = new Float64Array(16);
  namedG = new Float64Array(16);
  lackG = new Float64Array(16);
  /** Gram-days by which ready stock lies under the floor. */
  underGDays = 0;
  /** Changes in places of the malt store: whether of settled malt, day, places. */
  changeCount = 0;
  changeSettled: boolean[] = [];
  changeDay: number[] = [];
  changePlaces: number[] = [];
  /** False until it was asked anything. */
  private begun = false;
  /** Six numbers a batch. */
  private batch = new Float64Array(96);
  private readonly share: (Supply["share"])[] = [];

  /** Begins a question: these batches, in order of readiness, and uses to follow. */
  ask(list: readonly Supply[]): void {
    this.useCount = 0;
    this.batchCount = list.length;
    if (this.batch.length < 6 * list.length) this.batch = new Float64Array(12 * list.length);
    const { batch, share } = this;
    for (let i = 0, at = 0; i < list.length; i++, at += 6) {
      const one = list[i] as Supply;
      batch[at] = one.arrives;
      batch[at + 1] = one.ready;
      batch[at + 2] = one.last;
      batch[at + 3] = one.extractG;
      batch[at + 4] = one.perG;
      batch[at + 5] = (one.home ? 1 : 0) + (one.settled ? 2 : 0);
      share[i] = one.share;
    }
  }

  /** A use more, in order of day. */
  use(line: number, day: number, claimG: number, homeG: number, needG: number): void {
    const i = this.useCount++;
    if (i === this.useLine.length) this.grow(2 * i);
    this.useLine[i] = line;
    this.useDay[i] = day;
    this.useClaimG[i] = claimG;
    this.useHomeG[i] = homeG;
    this.useNeedG[i] = needG;
  }

  private grow(length: number): void {
    const larger = <T extends Int32Array | Float64Array>(to: T, from: T): T => (to.set(from), to);
    this.useLine = larger(new Int32Array(length), this.useLine);
    this.useDay = larger(new Int32Array(length), this.useDay);
    this.useClaimG = larger(new Float64Array(length), this.useClaimG);
    this.useHomeG = larger(new Float64Array(length), this.useHomeG);
    this.useNeedG = larger(new Float64Array(length), this.useNeedG);
    this.homeG = new Float64Array(length);
    this.namedG = new Float64Array(length);
    this.lackG = new Float64Array(length);
  }

  /** Whether this was asked the very same. */
  answers(asked: FlowRecord): boolean {
    const { useCount, batchCount } = this;
    if (useCount !== asked.useCount || batchCount !== asked.batchCount || !this.begun) return false;
    for (let i = 0; i < batchCount * 6; i++) if (this.batch[i] !== asked.batch[i]) return false;
    for (let i = 0; i < batchCount; i++) if (this.share[i] !== asked.share[i]) return false;
    for (let i = 0; i < useCount; i++) {
      if (
        this.useLine[i] !== asked.useLine[i] || this.useDay[i] !== asked.useDay[i] ||
        this.useClaimG[i] !== asked.useClaimG[i] || this.useHomeG[i] !== asked.useHomeG[i] ||
        this.useNeedG[i] !== asked.useNeedG[i]
      ) return false;
    }
    return true;
  }

  /** Takes a question over, with no answer yet. */
  begin(asked: FlowRecord): void {
    const { useCount, batchCount } = asked;
    if (this.useLine.length < useCount) this.grow(asked.useLine.length);
    if (this.batch.length < 6 * batchCount) this.batch = new Float64Array(asked.batch.length);
    this.useCount = useCount;
    this.batchCount = batchCount;
    for (let i = 0; i < batchCount * 6; i++) this.batch[i] = asked.batch[i] as number;
    for (let i = 0; i < batchCount; i++) this.share[i] = asked.share[i] as Supply["share"];
    for (let i = 0; i < useCount; i++) {
      this.useLine[i] = asked.useLine[i] as number;
      this.useDay[i] = asked.useDay[i] as number;
      this.useClaimG[i] = asked.useClaimG[i] as number;
      this.useHomeG[i] = asked.useHomeG[i] as number;
      this.useNeedG[i] = asked.useNeedG[i] as number;
      this.namedG[i] = 0;
    }
    this.begun = true;
    this.underGDays = 0;
    this.changeCount = 0;
  }

  /** So many places more are taken from a day on. */
  change(settled: boolean, day: number, places: number): void {
    const i = this.changeCount++;
    this.changeSettled[i] = settled;
    this.changeDay[i] = day;
    this.changePlaces[i] = places;
  }
}
