import type { Highs } from "highs";
import type { Plan } from "../plan/plan.ts";
import { fixedRuns } from "../search/fixed.ts";
import { type Problem, problemOf } from "../search/problem.ts";
import { VesselBoard } from "../search/vessels.ts";
import type { Season } from "../season/season.ts";
import { addCut, type Cut, cutFinder } from "./cuts.ts";
import { addLevelRows, levelColumns, levelCosts, levelsOf, mostOfLevel } from "./levels.ts";
import { type StandingModel, withStandingModel } from "./lp.ts";
import { type BoundModel, boundModel } from "./model.ts";
import { type Duals, provenBound } from "./recheck.ts";

/** Dual values, and the cuts they are of: what a bound is recomputed from. Rows are numbered: the model's, one a level, the cuts in order. */
export interface Proof {
  readonly cuts: readonly Cut[];
  readonly duals: Duals;
}

/** A count of a plan beside the most that any plan reaches which is no worse in the goals before it. */
export interface CountBound {
  readonly plan: number;
  readonly bound: number;
  /** Null where the bound is all that is asked, or what the plan has. */
  readonly proof: Proof | null;
}

/** A plan's money beside what no plan gets below that counts no fewer of anything. */
export interface MoneyBound {
  readonly planCents: number;
  readonly boundCents: number;
  /**
   * What no plan can change: bookings, less all grain at the best price it could bring unmalted and all that contracts pay. Money
   * above it is never less than 0.
   */
  readonly fixedCents: number;
  /** (plan - bound) / (plan - fixed), a share. */
  readonly gap: number;
  readonly proof: Proof;
}

/** How far a plan is from what can be proven. `money` is null while a count is below its bound. */
export interface PlanBound {
  readonly levels: {
    readonly made: readonly [CountBound, CountBound, CountBound];
    readonly promises: CountBound;
    readonly tail: CountBound;
  };
  readonly money: MoneyBound | null;
}

export interface BoundOptions {
  /** Asked between solves; true gives up and returns null. */
  cancelled?: () => boolean;
}

/** Solves of one level, and of money, with cuts looked for in between; behind an open level counts are bounded by one solve. */
const COUNT_ROUNDS = 15;
const MONEY_ROUNDS = 40;
/** Cuts added at a time. */
const CUTS_A_ROUND = 150;
/** Rounds that may pass with next to no gain. */
const MOST_IDLE = 4;
/** A count this little below a whole number is rounding. */
const COUNT_TOLERANCE = 1e-6;
/** Money of a plan is stated in parts, each rounded to whole cents. */
const ROUNDED_CENTS = 20;

/** The bound of a season as of a minute; see `boundOfProblem`. */
export function boundOf(
  highs: Highs,
  season: Season,
  asOf: string,
  goals: Plan["goals"],
  options: BoundOptions = {},
): PlanBound | null {
  return boundOfProblem(highs, problemOf(season, asOf), goals, options);
}

/** The relaxation of a problem with its level rows; the first of them. */
export function leveledModel(problem: Problem): { of: BoundModel; levelRow: number } {
  const of = boundModel(problem, fixedRuns(problem, new VesselBoard(problem)).fixed);
  return { of, levelRow: addLevelRows(of) };
}

/**
 * Proves how much better than `goals` a plan of the problem could be. Level by level (brews and sales of class 1, 2 and 3, promises, the
 * tail): the most any plan counts whose levels above are no less than the plan's. Where all levels are closed: what no plan's
 * money gets below whose levels are all no less. Each is recomputed from its dual values. The same problem and goals give the same
 * bound on every machine: limits are in rounds and steps.
 */
export function boundOfProblem(
  highs: Highs,
  problem: Problem,
  goals: Plan["goals"],
  { cancelled = () => false }: BoundOptions = {},
): PlanBound | null {
  const { of, levelRow } = leveledModel(problem);
  const plan = levelsOf(goals);
  const columns = levelColumns(of);
  const find = cutFinder(of);
  const cuts: Cut[] = [];
  return withStandingModel(highs, of.model, (lp) => {
    const levels: CountBound[] = [];
    for (const [level, count] of plan.entries()) {
      const all = mostOfLevel(of, columns[level] as number[]);
      if (count >= all) levels.push({ plan: count, bound: Math.max(count, all), proof: null });
      else {
        const best = raise(of, lp, cuts, find, levelCosts(of, level), {
          cancelled,
          rounds: levels.every((one) => one.bound <= one.plan) ? COUNT_ROUNDS : 1,
          goodEnough: (bound) => Math.floor(-bound + COUNT_TOLERANCE) <= count,
        });
        if (cancelled()) return null;
        const bound = best ? Math.min(all, Math.floor(-best.bound + COUNT_TOLERANCE)) : all;
        levels.push({ plan: count, bound, proof: best && proofOf(best, cuts, levelRow) });
      }
      lp.setRowLower(levelRow + level, count);
    }
    const closed = levels.every((one) => one.bound <= one.plan);
    const money = closed ? moneyBound(of, lp, cuts, find, levelRow, goals.moneyCents, cancelled) : null;
    if (cancelled()) return null;
    const [one, two, three, promises, tail] = levels as [
      CountBound,
      CountBound,
      CountBound,
      CountBound,
      CountBound,
    ];
    return { levels: { made: [one, two, three], promises, tail }, money };
  });
}

function moneyBound(
  of: BoundModel,
  lp: StandingModel,
  cuts: Cut[],
  find: ReturnType<typeof cutFinder>,
  levelRow: number,
  planCents: number,
  cancelled: () => boolean,
): MoneyBound | null {
  const best = raise(of, lp, cuts, find, of.model.cost, {
    cancelled,
    rounds: MONEY_ROUNDS,
    goodEnough: () => false,
  });
  if (!best) return null;
  const fixedCents = Math.floor(of.fixedMoney * 100) - ROUNDED_CENTS;
  const boundCents = Math.max(fixedCents, moneyCentsOf(of, best.bound));
  const gap = planCents > fixedCents ? (planCents - boundCents) / (planCents - fixedCents) : 0;
  return { planCents, boundCents, fixedCents, gap, proof: proofOf(best, cuts, levelRow) };
}

/** A proven bound on the model's money as the cents of a plan. */
function moneyCentsOf({ fixedMoney }: BoundModel, bound: number): number {
  return Math.floor((bound + fixedMoney) * 100) - ROUNDED_CENTS;
}

interface Raised {
  bound: number;
  duals: Float64Array;
}

/** Solves, cuts and solves again until no cut raises the bound. `cuts` grows. */
function raise(
  of: BoundModel,
  lp: StandingModel,
  cuts: Cut[],
  find: ReturnType<typeof cutFinder>,
  cost: readonly number[],
  { cancelled, rounds, goodEnough }: {
    cancelled: () => boolean;
    rounds: number;
    goodEnough: (bound: number) => boolean;
  },
): Raised | null {
  let best: Raised | null = null;
  let idle = 0;
  for (let round = 0; round < rounds && idle < MOST_IDLE && !cancelled(); round++) {
    const point = lp.solve(cost);
    if (!point) return best;
    const bound = provenBound(of.model, cost, [...point.duals.entries()]);
    const gained = best === null || bound > best.bound + 1e-5 * Math.max(1, Math.abs(best.bound));
    idle = gained ? 0 : idle + 1;
    if (best === null || bound > best.bound) best = { bound, duals: point.duals };
    if (goodEnough(best.bound) || round + 1 === rounds) break;
    const found = find(point.values, CUTS_A_ROUND);
    if (found.length === 0) break;
    for (const cut of found) addCut(of, cut);
    cuts.push(...found);
    lp.addNewRows();
  }
  return best;
}

/** The duals that are not 0, with the cuts among them. */
function proofOf({ duals }: Raised, cuts: readonly Cut[], levelRow: number): Proof {
  const firstCut = levelRow + 5;
  const used: Cut[] = [];
  const kept: [number, number][] = [];
  duals.forEach((value, row) => {
    if (value === 0) return;
    if (row < firstCut) kept.push([row, value]);
    else kept.push([firstCut + used.push(cuts[row - firstCut] as Cut) - 1, value]);
  });
  return { cuts: used, duals: kept };
}

/** Recomputes every bound of `found` from its proof, in plain arithmetic and without a solver. */
export function recheckBound(problem: Problem, { levels, money }: PlanBound): {
  levels: (number | null)[];
  moneyCents: number | null;
} {
  const all = [...levels.made, levels.promises, levels.tail];
  const counts = all.map((one, level) => {
    if (!one.proof) return null;
    const { of, cost } = provedModel(problem, all.slice(0, level), one.proof, level);
    return Math.floor(-provenBound(of.model, cost, one.proof.duals) + COUNT_TOLERANCE);
  });
  if (!money) return { levels: counts, moneyCents: null };
  const { of, cost } = provedModel(problem, all, money.proof, null);
  return { levels: counts, moneyCents: moneyCentsOf(of, provenBound(of.model, cost, money.proof.duals)) };
}

/** The model of a proof: the problem's own, levels no less than the plan's, and the proof's cuts. */
function provedModel(
  problem: Problem,
  above: readonly CountBound[],
  { cuts }: Proof,
  level: number | null,
): { of: BoundModel; cost: readonly number[] } {
  const { of, levelRow } = leveledModel(problem);
  above.forEach((one, place) => of.model.rowLower[levelRow + place] = one.plan);
  for (const cut of cuts) addCut(of, cut);
  return { of, cost: level === null ? of.model.cost : levelCosts(of, level) };
}
