import { canBuy, isHomeable, type Market, promiseInReach } from "./markets.ts";
import type { Line, Problem } from "./problem.ts";

/** Grams of extract a line asks of its own material; of raw grain, grams of grain. */
export function needOf(problem: Problem, line: Line): number {
  return problem.materials[line.material]?.malt ? line.extractG : line.bookMassG;
}

/**
 * All grist lines of all demands, laid out flat for the search. `least1` is what a made
 * brew cannot do without of home or held stock on its present day, because nothing can be bought in time.
 */
export class LineTable {
  readonly first: Int32Array;
  readonly demand: Int32Array;
  readonly material: Int32Array;
  readonly need: Float64Array;
  readonly least1: Float64Array;
  /** Grams each line claims of home or held stock: the least it needs, its brew's promise included. */
  readonly claim: Float64Array;
  /** What of the claim has to be home-grown, for a promise. */
  readonly homeClaim: Float64Array;
  /** By material: whether home-grown grain can give it at all. */
  readonly homeable: readonly boolean[];
  readonly bookG: Float64Array;
  /** By demand: whether its promise could be kept at all. */
  readonly promiseInReach: readonly boolean[];
  private readonly lines: Line[] = [];
  /** By demand: the day that `least1` is worked out for. */
  private readonly doneFor: Int32Array;

  constructor(private readonly problem: Problem, private readonly markets: readonly Market[]) {
    this.first = new Int32Array(problem.demands.length + 1);
    this.doneFor = new Int32Array(problem.demands.length).fill(-1);
    const demandOf: number[] = [];
    problem.demands.forEach((demand, index) => {
      this.first[index] = this.lines.length;
      for (const line of demand.lines) {
        this.lines.push(line);
        demandOf.push(index);
      }
    });
    this.first[problem.demands.length] = this.lines.length;
    this.demand = Int32Array.from(demandOf);
    this.material = Int32Array.from(this.lines.map((line) => line.material));
    this.need = Float64Array.from(this.lines.map((line) => needOf(problem, line)));
    this.bookG = Float64Array.from(this.lines.map((line) => line.bookMassG));
    this.least1 = new Float64Array(this.lines.length);
    this.claim = new Float64Array(this.lines.length);
    this.homeClaim = new Float64Array(this.lines.length);
    this.homeable = problem.materials.map((material) => isHomeable(problem, material.index));
    this.promiseInReach = problem.demands.map((demand) => promiseInReach(problem, demand));
  }

  get length(): number {
    return this.lines.length;
  }

  /** Works out the least claims for the days on which the demands now lie. */
  refresh(order: readonly number[], day: Int32Array): void {
    for (let i = 0; i < order.length; i++) {
      const demand = order[i] as number;
      if (this.doneFor[demand] === day[demand]) continue;
      this.doneFor[demand] = day[demand] as number;
      for (let line = this.first[demand] as number; line < (this.first[demand + 1] as number); line++) {
        const need = this.need[line] as number;
        const buyable = canBuy(this.problem, this.markets, this.lines[line] as Line, day[demand] as number);
        this.least1[line] = buyable ? 0 : need;
      }
    }
  }
}
