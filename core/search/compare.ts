import type { Score } from "./evaluate.ts";
import type { Problem } from "./problem.ts";

/** Less than 0 when `a` is the better score by the goals in order; what is broken comes before everything. */
export function compareScores(a: Score, b: Score): number {
  if (Math.abs(a.broken - b.broken) > 1e-9) return a.broken - b.broken;
  for (let i = 0; i < 3; i++) {
    const difference = (b.made[i] as number) - (a.made[i] as number);
    if (difference !== 0) return difference;
  }
  return b.promises - a.promises || b.made[3] - a.made[3] || a.moneyCents - b.moneyCents;
}

/** Prices that let an annealing search walk over the goals: they only steer, the best plan is kept by compareScores. */
export interface Steering {
  /** What a run costs, about: the scale of the search's temperatures. */
  runCents: number;
  made: readonly [number, number, number, number];
  promise: number;
  broken: number;
}

/** What a goal counts for beside the dearest brew, so that none is ever given up for money. */
const ABOVE_COST = 1.5;

export function steeringOf(problem: Problem, centsPerExtractG: readonly number[]): Steering {
  const home = homeCentsPerExtractG(problem);
  let dearest = 1000;
  for (const { kind, lines } of problem.demands) {
    if (kind !== "brew") continue;
    const cents = lines.reduce(
      (sum, { material, extractG }) =>
        sum + extractG * Math.max(home[material] as number, centsPerExtractG[material] ?? 0),
      0,
    );
    dearest = Math.max(dearest, cents);
  }
  const unit = ABOVE_COST * dearest;
  const runs = problem.materials.flatMap(({ made }) => made ? [made.runCents] : []).sort((a, b) => a - b);
  return {
    runCents: Math.max(1000, runs[runs.length >> 1] ?? 0),
    made: [12 * unit, 6 * unit, 3 * unit, unit],
    promise: unit,
    broken: 2 * unit,
  };
}

/** By material: what a gram of extract costs that is made at home where that is dearest, in full loads of the smallest vessels. */
function homeCentsPerExtractG(problem: Problem): number[] {
  const smallest = problem.materials.map(() => Infinity);
  for (const { malt, greatestG } of problem.slots) {
    for (const most of greatestG) if (most > 0 && most < (smallest[malt] as number)) smallest[malt] = most;
  }
  return problem.materials.map(({ made, maltIndex, extract }) => {
    const cleanG = smallest[maltIndex] ?? Infinity;
    if (!made || cleanG === Infinity) return 0;
    const kept = 1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm;
    return (made.runCents / cleanG + made.perTonneCents / 1e6) / (kept * extract);
  });
}

export function energyOf(score: Score, by: Steering): number {
  let energy = score.moneyCents + score.broken * by.broken - score.promises * by.promise;
  for (let i = 0; i < 4; i++) energy -= (score.made[i] as number) * (by.made[i] as number);
  return energy;
}
