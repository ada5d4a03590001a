import type { Highs } from "highs";
import type { Plan } from "../plan/plan.ts";
import { fixedRuns } from "../search/fixed.ts";
import { type Problem, problemOf } from "../search/problem.ts";
import { VesselBoard } from "../search/vessels.ts";
import type { Season } from "../season/season.ts";
import { addLevelRows, levelColumns, levelCosts, levelsOf, mostOfLevel } from "./levels.ts";
import { withStandingModel } from "../solve/standing.ts";
import { type BoundModel, boundModel } from "./model.ts";
import { type Proof, proofOf, proved } from "./proof.ts";
import { type Raised, Raiser } from "./raise.ts";
import { provenBound } from "./recheck.ts";
import { addTotalRows, totalsOf } from "./totals.ts";
import { branch, type Case, type ProofTree } from "./tree.ts";

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
  readonly proof: ProofTree;
}

/** How far a plan is from what can be proven. `money` is null while a count is below its bound, unless it was asked for all the same. */
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
  /** Bounds money also where a count is open: beside plans that count as this one does, not beside all. */
  held?: boolean;
}

/** Solves of one level, and of money, with cuts looked for in between; behind an open level counts are bounded by one solve. */
const COUNT_ROUNDS = 15;
const MONEY_ROUNDS = 40;
/** Splits of the proof of money into cases, in models of up to so many columns: each is solved once, and larger models more slowly. */
const SPLITS = [{ columns: 2500, splits: 200 }, { columns: 6000, splits: 40 }] as const;
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

/** The relaxation of a problem with its level rows and total rows, and where these and cuts begin. */
export interface Leveled {
  readonly of: BoundModel;
  readonly levelRow: number;
  readonly totalRow: number;
  readonly cutRow: number;
}

export function leveledModel(problem: Problem): Leveled {
  const of = boundModel(problem, fixedRuns(problem, new VesselBoard(problem)).fixed);
  const levelRow = addLevelRows(of), totalRow = addTotalRows(of);
  return { of, levelRow, totalRow, cutRow: of.model.rowLower.length };
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
  { cancelled = () => false, held = false }: BoundOptions = {},
): PlanBound | null {
  const leveled = leveledModel(problem);
  const { of, levelRow } = leveled;
  const plan = levelsOf(goals);
  const columns = levelColumns(of);
  return withStandingModel(highs, of.model, (lp) => {
    const raiser = new Raiser(of, lp);
    const levels: CountBound[] = [];
    for (const [level, count] of plan.entries()) {
      const all = mostOfLevel(of, columns[level] as number[]);
      if (count >= all) levels.push({ plan: count, bound: Math.max(count, all), proof: null });
      else {
        const best = raiser.raise(levelCosts(of, level), {
          cancelled,
          rounds: levels.every((one) => one.bound <= one.plan) ? COUNT_ROUNDS : 1,
          goodEnough: (bound) => Math.floor(-bound + COUNT_TOLERANCE) <= count,
        });
        if (cancelled()) return null;
        const bound = best ? Math.min(all, Math.floor(-best.bound + COUNT_TOLERANCE)) : all;
        levels.push({ plan: count, bound, proof: best && proofOf(best.duals, raiser.cuts, leveled.cutRow) });
      }
      lp.setRow(levelRow + level, count, Infinity);
    }
    const closed = levels.every((one) => one.bound <= one.plan);
    const money = closed || held ? moneyBound(leveled, raiser, goals.moneyCents, cancelled) : null;
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
  { of, totalRow, cutRow }: Leveled,
  raiser: Raiser,
  planCents: number,
  cancelled: () => boolean,
): MoneyBound | null {
  const { lp } = raiser;
  const { cost } = of.model;
  const root = raiser.raise(cost, { cancelled, rounds: MONEY_ROUNDS, goodEnough: () => false });
  if (!root) return null;
  raiser.letSleep(root.duals);
  // What a plan costs at most that is as good as this one: a case beyond it needs no more work.
  const enough = planCents / 100 - of.fixedMoney + 1;
  const { totals, coarse } = totalsOf(of);
  let before: Case = new Map();
  const solve = (limits: Case): Raised | null => {
    for (const total of before.keys()) {
      if (!limits.has(total)) lp.setRow(totalRow + total, -Infinity, Infinity);
    }
    for (const [total, [least, most]] of limits) lp.setRow(totalRow + total, least, most);
    before = limits;
    const raised = raiser.raise(cost, {
      cancelled,
      rounds: 1,
      goodEnough: (bound) => bound >= enough,
    });
    return raised ?? impossible(of, lp.ray(), enough);
  };
  const { bound, proof } = branch(
    {
      of,
      ...{ totals, coarse },
      solve,
      proofOf: ({ duals }) => proofOf(duals, raiser.cuts, cutRow),
      enough,
      cancelled,
    },
    root,
    SPLITS.find(({ columns }) => of.model.cost.length <= columns)?.splits ?? 0,
  );
  const fixedCents = Math.floor(of.fixedMoney * 100) - ROUNDED_CENTS;
  const boundCents = Math.max(fixedCents, moneyCentsOf(of, bound));
  const gap = planCents > fixedCents ? (planCents - boundCents) / (planCents - fixedCents) : 0;
  return { planCents, boundCents, fixedCents, gap, proof };
}

/** A case that no plan fits, as a bound above `enough`: the ray that shows it, as long as that takes. */
function impossible({ model }: BoundModel, ray: Float64Array | null, enough: number): Raised | null {
  if (!ray) return null;
  const none = model.cost.map(() => 0);
  const entries = [...ray.entries()];
  const gain = provenBound(model, none, entries);
  if (!(gain > 1e-6)) return null;
  const length = (Math.max(0, enough - provenBound(model, model.cost, [])) + 1) / gain;
  const duals = ray.map((value) => value * length);
  return { bound: provenBound(model, model.cost, [...duals.entries()]), duals, point: null };
}

/** A proven bound on the model's money as the cents of a plan. */
function moneyCentsOf({ fixedMoney }: BoundModel, bound: number): number {
  return Math.floor((bound + fixedMoney) * 100) - ROUNDED_CENTS;
}

/** Recomputes every bound of `found` from its proof, in plain arithmetic and without a solver. Throws a RangeError for a proof that is none. */
export function recheckBound(problem: Problem, { levels, money }: PlanBound): {
  levels: (number | null)[];
  moneyCents: number | null;
} {
  const { of, levelRow, totalRow } = leveledModel(problem);
  const counts = [...levels.made, levels.promises, levels.tail].map((one, level) => {
    const bound = one.proof && proved(of, levelCosts(of, level), one.proof, totalRow);
    of.model.rowLower[levelRow + level] = one.plan;
    return bound === null ? null : Math.floor(-bound + COUNT_TOLERANCE);
  });
  const bound = money && proved(of, of.model.cost, money.proof, totalRow);
  return { levels: counts, moneyCents: bound === null ? null : moneyCentsOf(of, bound) };
}
