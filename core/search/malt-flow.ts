import { FlowRecord } from "./flow-record.ts";
import type { LineTable } from "./lines.ts";
import { goodPart } from "./origin.ts";
import { keptAfter, Pool, type Taker } from "./pool.ts";
import type { Demand, Problem } from "./problem.ts";
import type { Supply } from "./supply.ts";

/** A need that home and held stock does not meet: grams of extract (weight, for raw grain) of a material on a day. */
export interface Deficit {
  line: number;
  material: number;
  /** What is bought for it: the same, or a malt that may stand in for all of it where only that can be had on the day. */
  bought: number;
  day: number;
  extractG: number;
}

/**
 * One malt through time, given to brews day by day, first in, first out. Most changes of a candidate leave most malts as they were: the
 * flow that was asked for again last is remembered, and so is the newest.
 */
export class MaltFlow implements Taker {
  private kept = new FlowRecord();
  private newest = new FlowRecord();
  private readonly asked = new FlowRecord();
  private readonly bought = new Pool(this);
  private readonly home = new Pool(this);
  private readonly boughtList: Supply[] = [];
  private readonly homeList: Supply[] = [];
  private readonly keep: Float64Array;
  private readonly keepHome: Float64Array;
  /** The record that is being written, and the use that is being served. */
  private record = this.newest;
  private at = 0;
  private clock = 0;
  private readonly placeG: number;

  /** `floorG` of the malt should lie ready at all times. */
  constructor(
    private readonly problem: Problem,
    private readonly table: LineTable,
    private readonly floorG: number,
  ) {
    this.placeG = problem.season.maltStore.placeG;
    this.keep = new Float64Array(table.length);
    this.keepHome = new Float64Array(table.length);
  }

  /** Serves lines, which stand in order of day; `list` is in order of readiness. The record is written anew by a later call. */
  serve(list: readonly Supply[], lines: readonly number[], day: Int32Array): FlowRecord {
    const { asked, table } = this;
    asked.ask(list);
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i] as number;
      asked.use(
        line,
        day[table.demand[line] as number] as number,
        table.claim[line] as number,
        table.homeClaim[line] as number,
        table.need[line] as number,
      );
    }
    if (this.kept.answers(asked)) return this.kept;
    const { newest } = this;
    if (newest.answers(asked)) {
      this.newest = this.kept;
      this.kept = newest;
      return newest;
    }
    newest.begin(asked);
    this.flow(list, newest);
    return newest;
  }

  private flow(list: readonly Supply[], record: FlowRecord): void {
    this.record = record;
    const { problem, home, bought, placeG, keep, keepHome } = this;
    const { useCount, useDay, useClaimG, useHomeG, useNeedG } = record;
    this.part(list);
    keptAfter(list, useDay, useClaimG, useCount, keep);
    keptAfter(this.homeList, useDay, useHomeG, useCount, keepHome);
    for (let i = 0; i < list.length; i++) {
      const one = list[i] as Supply;
      record.change(one.settled, one.arrives, Math.ceil(one.extractG / one.perG / placeG));
    }
    this.clock = problem.asOfDay + 1;
    for (let i = 0; i < useCount; i++) {
      const on = useDay[i] as number;
      const claimG = useClaimG[i] as number;
      const homeG = useHomeG[i] as number;
      this.comeTo(on);
      this.pass(on);
      this.at = i;
      const asked = useNeedG[i] as number;
      const can = Math.max(0, Math.min(asked, home.extractG + bought.extractG - (keep[i] as number)));
      // What a promise counts on is home malt; for all else bought malt that lies there goes first.
      const claimed = Math.min(homeG, can, home.extractG);
      const held = Math.min(can - claimed, bought.extractG);
      // A brew that can be made of nothing else goes before later promises.
      const spare = Math.max(0, home.extractG - claimed - (keepHome[i] as number), claimG - claimed - held);
      const fromHome = claimed + Math.min(can - claimed - held, spare);
      bought.take(held);
      record.homeG[i] = home.take(fromHome);
      record.lackG[i] = asked - fromHome - held;
    }
    this.comeTo(problem.endDay + 1);
    this.pass(problem.horizonDay + 1);
  }

  private part(list: readonly Supply[]): void {
    this.homeList.length = 0;
    this.boughtList.length = 0;
    for (let i = 0; i < list.length; i++) {
      const one = list[i] as Supply;
      if (one.home) this.homeList.push(one);
      else this.boughtList.push(one);
    }
    this.home.reset(this.homeList);
    this.bought.reset(this.boughtList);
  }

  /** What lies under the floor until a day, as far as it is shown. */
  private pass(to: number): void {
    const lastShown = this.problem.horizonDay + 1;
    const until = to < lastShown ? to : lastShown;
    if (until <= this.clock) return;
    const stockG = this.home.stockG + this.bought.stockG;
    if (stockG < this.floorG) this.record.underGDays += (this.floorG - stockG) * (until - this.clock);
    this.clock = until;
  }

  /** Lets malt become ready and spoil up to a day. */
  private comeTo(on: number): void {
    const { home, bought } = this;
    for (;;) {
      const atHome = home.nextDay(on), atBought = bought.nextDay(on);
      const next = atHome < atBought ? atHome : atBought;
      if (next === Infinity) return;
      this.pass(next);
      (atHome <= atBought ? home : bought).step(on);
    }
  }

  took(one: Supply, hadG: number, restG: number): void {
    const { at, record, table, placeG } = this;
    const { requires } = this.problem.demands[table.demand[record.useLine[at] as number] as number] as Demand;
    if (requires.length > 0) {
      const part = Math.min(...requires.map((asked) => goodPart(asked, one.share)));
      record.namedG[at] = (record.namedG[at] as number) + (hadG - restG) * part;
    }
    const freed = Math.ceil((hadG - 1e-6) / one.perG / placeG) -
      Math.ceil((restG - 1e-6) / one.perG / placeG);
    if (freed > 0) record.change(one.settled, record.useDay[at] as number, -freed);
  }
}
