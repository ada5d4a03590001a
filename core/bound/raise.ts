import { addCut, type Cut, cutFinder } from "./cuts.ts";
import type { LinearPoint, StandingModel } from "../solve/standing.ts";
import type { BoundModel } from "./model.ts";
import { provenBound } from "./recheck.ts";

/** A bound with the dual values that prove it, and the last point that was solved; null where no point fits. */
export interface Raised {
  readonly bound: number;
  readonly duals: Float64Array;
  readonly point: Float64Array | null;
}

export interface RaiseOptions {
  cancelled: () => boolean;
  /** Most solves. */
  rounds: number;
  goodEnough: (bound: number) => boolean;
}

/** Cuts added at a time. */
const CUTS_A_ROUND = 150;
/** Rounds that may pass with next to no gain. */
const MOST_IDLE = 4;

/** Dual values prove as much in so many digits, and are written down in half the space. */
const DIGITS = 8;

function inFewDigits(value: number): number {
  return Number(value.toPrecision(DIGITS));
}

/** A cut whose dual value is no more than this does not bind; one that a point violates by more than this is woken. */
const BINDING = 1e-9;
const VIOLATED_T = 1e-5;

/** Solves, cuts and solves again. Cuts found on the way are true of all plans: they stay, and `cuts` lists them. */
export class Raiser {
  readonly cuts: Cut[] = [];
  private readonly find: ReturnType<typeof cutFinder>;
  private readonly firstCut: number;
  /** Rows of cuts that the solver is not to see for now, with what they ask for. */
  private readonly asleep = new Map<number, number>();

  constructor(readonly of: BoundModel, readonly lp: StandingModel) {
    this.find = cutFinder(of);
    this.firstCut = of.model.rowLower.length;
  }

  /** Takes cuts that do not bind out of the solver's sight, which most do not. One that a point then violates is woken. */
  letSleep(duals: Float64Array): void {
    for (let row = this.firstCut; row < duals.length; row++) {
      if (Math.abs(duals[row] as number) > BINDING || this.asleep.has(row)) continue;
      this.asleep.set(row, this.of.model.rowLower[row] as number);
      this.lp.setRow(row, -Infinity, Infinity);
    }
  }

  /** Shows the solver the sleeping cuts that a point violates; whether there were any. */
  private wake(point: Float64Array): boolean {
    const { start, index, value } = this.of.model;
    let any = false;
    for (const [row, lower] of this.asleep) {
      let sum = 0;
      const end = start[row + 1] as number;
      for (let at = start[row] as number; at < end; at++) {
        sum += (value[at] as number) * (point[index[at] as number] as number);
      }
      if (sum >= lower - VIOLATED_T) continue;
      this.lp.setRow(row, lower, Infinity);
      this.asleep.delete(row);
      any = true;
    }
    return any;
  }

  /** The least point, and where sleeping cuts cut it off the least that they leave: once, as more than that gains next to nothing. */
  private solve(cost: readonly number[]): LinearPoint | null {
    const solved = this.lp.solve(cost);
    return solved && this.wake(solved.values) ? this.lp.solve(cost) ?? solved : solved;
  }

  /** The best bound of some rounds; null when the first solve has no answer. */
  raise(cost: readonly number[], { cancelled, rounds, goodEnough }: RaiseOptions): Raised | null {
    let best: Raised | null = null as Raised | null;
    let idle = 0;
    for (let round = 0; round < rounds && idle < MOST_IDLE && !cancelled(); round++) {
      const solved = this.solve(cost);
      if (!solved) return best;
      const point = solved.values;
      const duals = solved.duals.map(inFewDigits);
      const bound = provenBound(this.of.model, cost, [...duals.entries()]);
      const gained = best === null || bound > best.bound + 1e-5 * Math.max(1, Math.abs(best.bound));
      idle = gained ? 0 : idle + 1;
      best = best === null || bound > best.bound ? { bound, duals, point } : { ...best, point };
      if (goodEnough(best.bound) || round + 1 === rounds) break;
      const found = this.find(point, CUTS_A_ROUND);
      if (found.length === 0) break;
      for (const cut of found) addCut(this.of, cut);
      this.cuts.push(...found);
      this.lp.addNewRows();
    }
    return best;
  }
}
