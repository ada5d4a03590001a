import { Claims, MARGIN } from "./claims.ts";
import type { LineTable } from "./lines.ts";
import type { Problem } from "./problem.ts";
import { ReadyMalt } from "./ready-malt.ts";
import type { Supply } from "./supply.ts";

const BREW_RANK = 10;

/** Which demands are not to be made, and whether what is ready should rather be used soon than by the most brews. */
export interface Hurry {
  barred: Uint8Array;
  /** True where the malt store is short of places: of like demands the latest goes, so that stock does not wait for it. */
  crowded: boolean;
}

/**
 * Chooses which brews are made (status 1) and which also keep their home-share promise (2), and what each line claims of its
 * malt. In order of day every brew comes in with the least home malt it needs, taken from the lines whose malt is most
 * plentiful; when a malt's running claims overtake its supply, the largest among the cheapest to drop goes, a promise
 * before a brew (Moore and Hodgson's rule, malt by malt). Malt that nobody has claimed by its last day is not there for later claims.
 */
export class Promises {
  private readonly malts: readonly ReadyMalt[];
  private readonly claims: Claims;
  /** By demand: how dear it is to break its promise, or not to make it. */
  private readonly promiseRank: Uint8Array;
  private readonly brewRank: Uint8Array;
  private status: Uint8Array = new Uint8Array(0);
  /** The drop that was found: the cheapest so far, and of those the largest. */
  private pick = -1;
  private pickRank = 0;
  private pickGain = 0;

  /** `rawFromLots` by material: raw grain that comes from the farm's own lots. */
  constructor(
    problem: Problem,
    private readonly table: LineTable,
    private readonly rawFromLots: readonly boolean[],
  ) {
    this.malts = problem.materials.map(() => new ReadyMalt());
    this.claims = new Claims(problem, table, this.malts, rawFromLots);
    this.promiseRank = Uint8Array.from(problem.demands, (demand) => demand.class === 4 ? 0 : 1);
    this.brewRank = Uint8Array.from(problem.demands, (demand) => BREW_RANK + 5 - demand.class);
  }

  /** Fills `status` of the demands in `order`, and the claims of the line table. */
  choose(
    supplies: readonly (readonly Supply[])[],
    order: readonly number[],
    day: Int32Array,
    status: Uint8Array,
    { barred, crowded }: Hurry,
  ): void {
    const { table, malts, rawFromLots } = this;
    this.status = status;
    for (let m = 0; m < malts.length; m++) {
      (malts[m] as ReadyMalt).reset(supplies[m] as readonly Supply[]);
    }
    for (let i = 0; i < order.length; i++) {
      const demand = order[i] as number;
      const lines = table.linesOf[demand] as readonly number[];
      for (const line of lines) this.maltOf(line).comeTo(day[demand] as number, table);
      if (barred[demand]) {
        status[demand] = 0;
        continue;
      }
      status[demand] = table.mayPromise[demand] ? 2 : 1;
      this.claims.claim(demand, status[demand] === 2, crowded);
      for (const line of lines) {
        if ((table.need[line] as number) <= 0) continue;
        const malt = this.maltOf(line);
        malt.seen.push(line);
        if (rawFromLots[table.material[line] as number]) continue;
        while (malt.claimedG * (1 - MARGIN) > malt.readyG + 1) {
          if (!this.dropOne(malt, crowded)) break;
        }
        // Bought malt in the store makes a brew but keeps no promise.
        while (malt.claimedHomeG * (1 - MARGIN) > malt.readyHomeG + 1) {
          if (!this.dropPromise(malt)) break;
        }
      }
    }
  }

  private maltOf(line: number): ReadyMalt {
    return this.malts[this.table.material[line] as number] as ReadyMalt;
  }

  /** Drops the cheapest, and of those the largest or the `latest`, claim on one malt; false when there is none. */
  private dropOne({ seen, from }: ReadyMalt, latest: boolean): boolean {
    const { table, status } = this;
    this.pick = -1;
    for (let i = from; i < seen.length; i++) {
      const line = seen[i] as number;
      const demand = table.demand[line] as number;
      const is = status[demand] as number;
      if (is === 0) continue;
      const least1 = table.least1[line] as number;
      const promiseGain = is === 2 ? (table.claim[line] as number) - least1 : 0;
      if (promiseGain > 0) this.offer(demand, this.promiseRank[demand] as number, promiseGain, latest);
      else if (least1 > 0) this.offer(demand, this.brewRank[demand] as number, least1, latest);
    }
    return this.drop();
  }

  /** Drops the cheapest promise, and of those the one that claims most of one malt; its brew stays. False when there is none. */
  private dropPromise({ seen, from }: ReadyMalt): boolean {
    const { table, status } = this;
    this.pick = -1;
    for (let i = from; i < seen.length; i++) {
      const line = seen[i] as number;
      const demand = table.demand[line] as number;
      const gain = table.homeClaim[line] as number;
      if (status[demand] !== 0 && gain > 0) {
        this.offer(demand, this.promiseRank[demand] as number, gain, false);
      }
    }
    return this.drop();
  }

  /** What giving up a claim would free, grams of extract, and how dear that is; the least rank goes first. */
  private offer(demand: number, rank: number, gain: number, latest: boolean): void {
    if (this.pick >= 0) {
      if (rank > this.pickRank) return;
      if (rank === this.pickRank && !latest && gain <= this.pickGain) return;
    }
    this.pick = demand;
    this.pickRank = rank;
    this.pickGain = gain;
  }

  private drop(): boolean {
    if (this.pick < 0) return false;
    this.lower(this.pick, this.pickRank >= BREW_RANK ? 0 : 1);
    return true;
  }

  /** Takes a demand down to `to`, and its claims with it. */
  private lower(demand: number, to: 0 | 1): void {
    const { table, status } = this;
    for (const line of table.linesOf[demand] as readonly number[]) {
      const malt = this.maltOf(line);
      const keeps = to === 1 ? table.least1[line] as number : 0;
      malt.claimedG += keeps - (table.claim[line] as number);
      malt.claimedHomeG -= table.homeClaim[line] as number;
      table.claim[line] = keeps;
      table.homeClaim[line] = 0;
    }
    status[demand] = to;
  }
}
