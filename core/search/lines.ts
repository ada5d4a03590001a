import { canBuy, isHomeable, type Market, promiseInReach } from "./markets.ts";
import type { Demand, Line, Material, Problem } from "./problem.ts";
import type { Substitute } from "./substitutes.ts";

/** Grams of extract a line asks of its own material; of raw grain, grams of grain. */
export function needOf(problem: Problem, line: Line): number {
  return problem.materials[line.material]?.malt ? line.extractG : line.bookMassG;
}

/**
 * All grist lines of all demands, laid out flat for the search, and behind them one line for each substitute that may be taken:
 * it asks for nothing until it is, and then for what the line it belongs to no longer asks for. `least1` is what a made
 * brew cannot do without of home or held stock on its present day, because nothing can be bought in time.
 */
export class LineTable {
  /** By demand: its first line of the grist; the others follow. */
  readonly first: Int32Array;
  /** By demand: its lines, those of substitutes too. */
  readonly linesOf: readonly (readonly number[])[];
  readonly demand: Int32Array;
  readonly material: Int32Array;
  /** Grams of extract asked for (of raw grain, weight), with the substitutes taken that `refresh` was told of. */
  readonly need: Float64Array;
  /** Book weight of it. */
  readonly bookG: Float64Array;
  readonly least1: Float64Array;
  /** Grams each line claims of home or held stock: the least it needs, its brew's promise included. */
  readonly claim: Float64Array;
  /** What of the claim has to be home-grown, for a promise. */
  readonly homeClaim: Float64Array;
  /** By material: whether home-grown grain can give it at all. */
  readonly homeable: readonly boolean[];
  /** By demand: whether its promise could be kept at all, with every line met with its own malt. */
  readonly promiseInReach: readonly boolean[];
  /** The same as lines are met now. */
  readonly mayPromise: Uint8Array;
  private readonly lines: Line[] = [];
  /** By demand: its substitutes. */
  private readonly substitutesOf: readonly (readonly number[])[];
  /** By demand: the day that `least1` is worked out for; by substitute: whether it was taken then. */
  private readonly doneFor: Int32Array;
  private readonly doneWith: Uint8Array;

  constructor(private readonly problem: Problem, private readonly markets: readonly Market[]) {
    const { demands, substitutes, materials } = problem;
    this.first = new Int32Array(demands.length + 1);
    this.doneFor = new Int32Array(demands.length).fill(-1);
    this.doneWith = new Uint8Array(substitutes.length);
    const demandOf: number[] = [];
    demands.forEach((demand, index) => {
      this.first[index] = this.lines.length;
      for (const line of demand.lines) {
        this.lines.push(line);
        demandOf.push(index);
      }
    });
    this.first[demands.length] = this.lines.length;
    this.substitutesOf = demands.map(({ index }) =>
      substitutes.flatMap((one, i) => one.demand === index ? [i] : [])
    );
    for (const { demand, line, material, mostShare } of substitutes) {
      const { lineId, extractG } = (demands[demand] as Demand).lines[line] as Line;
      const part = extractG * mostShare;
      const bookMassG = part / (materials[material] as Material).extract;
      this.lines.push({ lineId, material, extractG: part, bookMassG, substitutes: [] });
      demandOf.push(demand);
    }
    this.linesOf = demands.map(({ index, lines }) => [
      ...lines.map((_, l) => (this.first[index] as number) + l),
      ...(this.substitutesOf[index] as readonly number[]).map((i) => this.lineOf(i)),
    ]);
    this.demand = Int32Array.from(demandOf);
    this.material = Int32Array.from(this.lines.map((line) => line.material));
    this.need = Float64Array.from(this.lines, (line, i) => i < this.own ? needOf(problem, line) : 0);
    this.bookG = Float64Array.from(this.lines, (line, i) => i < this.own ? line.bookMassG : 0);
    this.least1 = new Float64Array(this.lines.length);
    this.claim = new Float64Array(this.lines.length);
    this.homeClaim = new Float64Array(this.lines.length);
    this.homeable = materials.map((material) => isHomeable(problem, material.index));
    this.promiseInReach = demands.map((demand) => promiseInReach(problem, demand));
    this.mayPromise = Uint8Array.from(this.promiseInReach, Number);
  }

  get length(): number {
    return this.lines.length;
  }

  /** Lines of the grists themselves, which stand before those of substitutes. */
  private get own(): number {
    return this.first[this.first.length - 1] as number;
  }

  /** Grams of extract that a grist's raw grain is taken to give for each gram. */
  rawExtract(line: number): number {
    const { extractG, bookMassG } = this.lines[line] as Line;
    return extractG / bookMassG;
  }

  /** What is bought for a line on a day: its own malt, or one that may stand in for all of it where only that can be had. */
  boughtAs(line: number, day: number): number {
    const { problem, markets } = this;
    const own = this.material[line] as number;
    const isOpen = (material: number) => markets[material]?.open[day - problem.asOfDay] === 1;
    const { substitutes } = this.lines[line] as Line;
    if (substitutes.length === 0 || isOpen(own) || !problem.materials[own]?.malt) return own;
    return substitutes.find((one) => one.mostShare >= 1 && isOpen(one.material))?.material ?? own;
  }

  /** The line of a grist that a line is of or, for a substitute's, that it is taken for. */
  ownLine(line: number): number {
    const substitute = this.problem.substitutes[line - this.own];
    return substitute ? (this.first[substitute.demand] as number) + substitute.line : line;
  }

  /** The line of a substitute. */
  private lineOf(substitute: number): number {
    return this.own + substitute;
  }

  /** Works out needs and least claims for the days on which the demands now lie and the substitutes that are taken. */
  refresh(order: readonly number[], day: Int32Array, substituted: Uint8Array): void {
    const { problem, markets, doneFor, doneWith } = this;
    for (let i = 0; i < order.length; i++) {
      const demand = order[i] as number;
      const substitutes = this.substitutesOf[demand] as readonly number[];
      const isSame = substitutes.every((one) => doneWith[one] === substituted[one]);
      if (isSame && doneFor[demand] === day[demand]) continue;
      doneFor[demand] = day[demand] as number;
      if (!isSame) this.share(demand, substitutes, substituted);
      for (const line of this.linesOf[demand] as readonly number[]) {
        const need = this.need[line] as number;
        const buyable = canBuy(problem, markets, this.lines[line] as Line, day[demand] as number);
        this.least1[line] = buyable ? 0 : need;
      }
    }
  }

  /** Shares a demand's needs out between its lines and the substitutes that are taken. */
  private share(demand: number, substitutes: readonly number[], substituted: Uint8Array): void {
    const { problem, need, bookG, lines } = this;
    for (const one of substitutes) {
      const own = (this.first[demand] as number) + (problem.substitutes[one] as Substitute).line;
      need[own] = (lines[own] as Line).extractG;
    }
    for (const one of substitutes) {
      const own = (this.first[demand] as number) + (problem.substitutes[one] as Substitute).line;
      const { extractG, bookMassG } = lines[this.lineOf(one)] as Line;
      const part = substituted[one] ? Math.min(extractG, need[own] as number) : 0;
      need[own] = (need[own] as number) - part;
      need[this.lineOf(one)] = part;
      bookG[this.lineOf(one)] = bookMassG * (part / extractG);
      this.doneWith[one] = substituted[one] as number;
    }
    let homeG = 0, allG = 0;
    for (const line of this.linesOf[demand] as readonly number[]) {
      const { extractG, bookMassG } = lines[line] as Line;
      if (line < this.own && problem.materials[this.material[line] as number]?.malt) {
        bookG[line] = bookMassG * ((need[line] as number) / extractG);
      }
      allG += bookG[line] as number;
      if (this.homeable[this.material[line] as number]) homeG += bookG[line] as number;
    }
    const { promise } = problem.demands[demand] as Demand;
    this.mayPromise[demand] = promise <= homeG / Math.max(1, allG) + 1e-9 ? 1 : 0;
  }
}
