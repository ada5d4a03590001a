import type { LineTable } from "./lines.ts";
import { goodPart } from "./origin.ts";
import type { PlaceCount } from "./place-count.ts";
import { keptAfter, Pool, type Taker } from "./pool.ts";
import type { Demand, Problem } from "./problem.ts";
import type { Supply } from "./supply.ts";

/** A need that home and held stock does not meet: grams of extract (weight, for raw grain) of a material on a day. */
export interface Deficit {
  line: number;
  material: number;
  day: number;
  extractG: number;
}

/** Where a flow of malt writes what it gives and lacks. */
export interface Given {
  /** Home-grown extract given to each line. */
  home: Float64Array;
  /** Extract given to each line from lots that its brew asks for by name. */
  named: Float64Array;
  lacks(line: number, material: number, day: number, extractG: number): void;
}

/** One malt through time, given to brews day by day, first in, first out. */
export class MaltFlow implements Taker {
  /** Gram-days by which ready stock lies under the floor: `serve` adds to it. */
  underGDays = 0;
  private readonly bought = new Pool(this);
  private readonly home = new Pool(this);
  private readonly boughtList: Supply[] = [];
  private readonly homeList: Supply[] = [];
  private readonly useDay: Int32Array;
  private readonly useClaimG: Float64Array;
  private readonly useHomeG: Float64Array;
  private readonly keep: Float64Array;
  private readonly keepHome: Float64Array;
  /** The line that is being served, and the day. */
  private line = 0;
  private on = 0;
  private clock = 0;
  private floorG = 0;
  private readonly placeG: number;

  constructor(
    private readonly problem: Problem,
    private readonly table: LineTable,
    private readonly places: PlaceCount,
    private readonly given: Given,
  ) {
    this.placeG = problem.season.maltStore.placeG;
    this.useDay = new Int32Array(table.length);
    this.useClaimG = new Float64Array(table.length);
    this.useHomeG = new Float64Array(table.length);
    this.keep = new Float64Array(table.length);
    this.keepHome = new Float64Array(table.length);
  }

  /** Serves the lines of one material, which stand in order of day; `list` is in order of readiness. */
  serve(
    { index: material, floorG }: { index: number; floorG: number },
    list: readonly Supply[],
    lines: readonly number[],
    day: Int32Array,
  ): void {
    const { problem, table, home, bought, places, placeG, keep, keepHome } = this;
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i] as number;
      this.useDay[i] = day[table.demand[line] as number] as number;
      this.useClaimG[i] = table.claim[line] as number;
      this.useHomeG[i] = table.homeClaim[line] as number;
    }
    this.part(list);
    keptAfter(list, this.useDay, this.useClaimG, lines.length, keep);
    keptAfter(this.homeList, this.useDay, this.useHomeG, lines.length, keepHome);
    for (let i = 0; i < list.length; i++) {
      const one = list[i] as Supply;
      places.change(one.settled, one.arrives, Math.ceil(one.extractG / one.perG / placeG));
    }
    this.clock = problem.asOfDay + 1;
    this.floorG = floorG;
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i] as number;
      const on = this.useDay[i] as number;
      const claimG = this.useClaimG[i] as number;
      const homeG = this.useHomeG[i] as number;
      this.comeTo(on);
      this.pass(on);
      this.line = line;
      this.on = on;
      const asked = table.need[line] as number;
      const can = Math.max(0, Math.min(asked, home.extractG + bought.extractG - (keep[i] as number)));
      // What a promise counts on is home malt; for all else bought malt that lies there goes first.
      const claimed = Math.min(homeG, can, home.extractG);
      const held = Math.min(can - claimed, bought.extractG);
      // A brew that can be made of nothing else goes before later promises.
      const spare = Math.max(0, home.extractG - claimed - (keepHome[i] as number), claimG - claimed - held);
      const fromHome = claimed + Math.min(can - claimed - held, spare);
      bought.take(held);
      this.given.home[line] = home.take(fromHome);
      const lacking = asked - fromHome - held;
      if (lacking > 1e-6) this.given.lacks(line, material, on, lacking);
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
    if (stockG < this.floorG) this.underGDays += (this.floorG - stockG) * (until - this.clock);
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
    const { line, table, given, placeG } = this;
    const { requires } = this.problem.demands[table.demand[line] as number] as Demand;
    if (requires.length > 0) {
      const part = Math.min(...requires.map((asked) => goodPart(asked, one.share)));
      given.named[line] = (given.named[line] as number) + (hadG - restG) * part;
    }
    const freed = Math.ceil((hadG - 1e-6) / one.perG / placeG) -
      Math.ceil((restG - 1e-6) / one.perG / placeG);
    if (freed > 0) this.places.change(one.settled, this.on, -freed);
  }
}
