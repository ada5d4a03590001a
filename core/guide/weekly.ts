import type { Highs } from "highs";
import { type Leveled, leveledModel } from "../bound/bound.ts";
import { levelColumns, levelsOf, mostOfLevel, PROMISES } from "../bound/levels.ts";
import { type StandingModel, withStandingModel } from "../bound/lp.ts";
import { type BoundModel, STEP_DAYS } from "../bound/model.ts";
import type { Plan } from "../plan/plan.ts";
import { chance } from "../search/chance.ts";
import type { Problem } from "../search/problem.ts";
import { dive } from "./dive.ts";

/** Runs of one malt from lots that may be mixed, begun in one week of the weekly model. */
export interface WeekRuns {
  readonly malt: number;
  /** First day of the week. */
  readonly from: number;
  readonly count: number;
  /** What all of them draw of each lot, tonnes. */
  readonly draws: readonly { readonly lot: number; readonly massT: number }[];
}

/** What the weekly model chose: runs in order of week, and by the problem's substitutes whether it took them. */
export interface Weeks {
  readonly runs: readonly WeekRuns[];
  readonly substituted: Uint8Array;
}

/** Runs of a varied model cost up to half this share more or less. */
const NUDGE = 0.4;

/** Models of more columns are left alone: their solves take longer than the search gains by them. */
const MOST_COLUMNS = 12_000;

/** Counts to come to: those of `goals` for the least money; or one more of the first goal that the weekly model can raise. */
export interface Aim {
  readonly goals: Plan["goals"];
  readonly higher: boolean;
}

/**
 * Which runs to make in which week, in order of week, for little money, by the weekly model in whole numbers, at counts no less than its
 * aim. Every `variant` but 0 takes runs to cost a little more or less by chance, and so comes to another of the many choices that cost about the same. Null where it has no such point, where the season is too large for it and where it was cancelled. Limits are in rounds: the same on every machine.
 */
export function weeklyRuns(
  highs: Highs,
  problem: Problem,
  aim: Aim,
  variant: number,
  cancelled: () => boolean = () => false,
): Weeks | null {
  const leveled = leveledModel(problem);
  const { of, levelRow } = leveled;
  const { model } = of;
  if (model.cost.length > MOST_COLUMNS) return null;
  if (variant > 0) nudge(of, variant);
  levelsOf(aim.goals).forEach((count, level) => model.rowLower[levelRow + level] = count);
  const values = withStandingModel(
    highs,
    model,
    (lp) => aim.higher ? diveHigher(leveled, lp, aim.goals, cancelled) : dive(of, lp, cancelled),
  );
  return values && { runs: weeksOf(of, values), substituted: substitutedIn(of, values) };
}

/** A point of whole numbers with one more of the first goal that has one: goals before it count no less, those behind it may give way. */
function diveHigher(
  { of, levelRow }: Leveled,
  lp: StandingModel,
  goals: Plan["goals"],
  cancelled: () => boolean,
): Float64Array | null {
  const counts = levelsOf(goals), columns = levelColumns(of);
  for (let level = 0; level <= PROMISES && !cancelled(); level++) {
    if ((counts[level] as number) >= mostOfLevel(of, columns[level] as number[])) continue;
    counts.forEach((count, at) => {
      const least = at < level ? count : at === level ? count + 1 : 0;
      lp.setRow(levelRow + at, least, Infinity);
    });
    const found = dive(of, lp, cancelled);
    if (found) return found;
  }
  return null;
}

function nudge({ model, runs }: BoundModel, seed: number): void {
  const dice = chance(seed);
  for (const { count } of runs) {
    model.cost[count] = (model.cost[count] as number) * (1 + NUDGE * (dice.fraction() - 0.5));
  }
}

function weeksOf({ problem, runs }: BoundModel, values: Float64Array): WeekRuns[] {
  return runs.map(({ malt, step, lots, draws, count }) => ({
    malt,
    from: problem.freeDay + step * STEP_DAYS,
    count: Math.round(values[count] as number),
    draws: lots.flatMap((lot, i) => {
      const column = draws[i] as number;
      return column < 0 ? [] : [{ lot, massT: values[column] as number }];
    }),
  })).filter((week) => week.count > 0).sort((a, b) => a.from - b.from);
}

/** Where more than half of what a substitute may be is taken of it. */
function substitutedIn({ problem, demands }: BoundModel, values: Float64Array): Uint8Array {
  return Uint8Array.from(problem.substitutes, ({ demand, line, material, mostShare }) => {
    const { needT, uses } = demands[demand] as BoundModel["demands"][number];
    const takenT = uses.reduce(
      (sum, use) =>
        use.line === line && use.material === material ? sum + (values[use.column] as number) : sum,
      0,
    );
    return takenT > (needT[line] as number) * mostShare / 2 ? 1 : 0;
  });
}
