import type { Highs } from "highs";
import { type Leveled, leveledModel } from "../bound/bound.ts";
import { levelColumns, levelCosts, levelsOf, mostOfLevel, PROMISES } from "../bound/levels.ts";
import { type StandingModel, withStandingModel } from "../solve/standing.ts";
import { type BoundModel, STEP_DAYS } from "../bound/model.ts";
import type { Plan } from "../plan/plan.ts";
import { chance } from "../search/chance.ts";
import type { Problem } from "../search/problem.ts";
import { cutDown, dive } from "./dive.ts";

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

/** What is so near a whole number counts as whole. */
const WHOLE = 1e-5;
/** Runs of a varied model cost up to half this share more or less. */
const NUDGE = 0.4;

/** Models of more columns are left alone: their solves take longer than the search gains by them. */
const MOST_COLUMNS = 12_000;

/**
 * Counts to come to: those of `goals` for the least money; one more of the first goal that the weekly model can raise, and of those
 * behind it as many as it then can, or whatever is left; or as many as it can of each goal in turn.
 */
export interface Aim {
  readonly goals: Plan["goals"];
  readonly at: "these" | "one more" | "one more alone" | "most";
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
    (lp) => DIVES[aim.at](leveled, lp, aim.goals, cancelled),
  );
  return values && { runs: weeksOf(of, values), substituted: substitutedIn(of, values) };
}

type Dive = (
  leveled: Leveled,
  lp: StandingModel,
  goals: Plan["goals"],
  cancelled: () => boolean,
) => Float64Array | null;

const DIVES: Readonly<Record<Aim["at"], Dive>> = {
  "these": ({ of }, lp, _, cancelled) => dive(of, lp, cancelled),
  "one more": (...by) => diveHigher(true, ...by),
  "one more alone": (...by) => diveHigher(false, ...by),
  "most": diveHighest,
};

/** A point of whole numbers with as much of each goal in turn as the model can. */
function diveHighest(leveled: Leveled, lp: StandingModel, goals: Plan["goals"], cancelled: () => boolean) {
  raiseFrom(0, leveled, lp, levelsOf(goals), cancelled);
  return dive(leveled.of, lp, cancelled);
}

/** A point of whole numbers with one more of the first goal that has one: goals before it count no less, and with `behind` those behind it as much as they then can. */
function diveHigher(
  behind: boolean,
  leveled: Leveled,
  lp: StandingModel,
  goals: Plan["goals"],
  cancelled: () => boolean,
): Float64Array | null {
  const { of, levelRow } = leveled;
  const counts = levelsOf(goals), columns = levelColumns(of);
  for (let level = 0; level <= PROMISES && !cancelled(); level++) {
    if ((counts[level] as number) >= mostOfLevel(of, columns[level] as number[])) continue;
    const least = counts.map((count, at) => at < level ? count : at === level ? count + 1 : 0);
    least.forEach((count, at) => lp.setRow(levelRow + at, count, Infinity));
    if (!lp.solve(of.model.cost)) continue;
    if (behind) raiseFrom(level + 1, leveled, lp, least, cancelled);
    const found = dive(of, lp, cancelled);
    if (found) return found;
  }
  return null;
}

/** Asks of each goal from `first` on, one after the other, for all that the model can make of it in whole numbers, and no less than `least`. */
function raiseFrom(
  first: number,
  { of, levelRow }: Leveled,
  lp: StandingModel,
  least: readonly number[],
  cancelled: () => boolean,
): void {
  const columns = levelColumns(of);
  for (const [level, count] of least.entries()) {
    if (level < first || cancelled()) continue;
    const counted = columns[level] as number[];
    const most = count < mostOfLevel(of, counted)
      ? cutDown(of, lp, levelCosts(of, level), cancelled)?.reduce(
        (sum, value, column) => counted.includes(column) ? sum + value : sum,
        0,
      )
      : count;
    lp.setRow(levelRow + level, Math.max(count, Math.floor((most ?? count) + WHOLE)), Infinity);
  }
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
