import { addCut, type Cut, cutFinder } from "./cuts.ts";
import type { StandingModel } from "../solve/standing.ts";
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

/** Solves, cuts and solves again. Cuts found on the way are true of all plans: they stay, and `cuts` lists them. */
export class Raiser {
  readonly cuts: Cut[] = [];
  private readonly find: ReturnType<typeof cutFinder>;

  constructor(readonly of: BoundModel, readonly lp: StandingModel) {
    this.find = cutFinder(of);
  }

  /** The best bound of some rounds; null when the first solve has no answer. */
  raise(cost: readonly number[], { cancelled, rounds, goodEnough }: RaiseOptions): Raised | null {
    let best: Raised | null = null as Raised | null;
    let idle = 0;
    for (let round = 0; round < rounds && idle < MOST_IDLE && !cancelled(); round++) {
      const solved = this.lp.solve(cost);
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
