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
  unit: number;
  made: readonly [number, number, number, number];
  promise: number;
  broken: number;
}

export function steeringOf(problem: Problem, centsPerExtractG: readonly number[]): Steering {
  const costs = problem.demands.filter((demand) => demand.kind === "brew").map((demand) =>
    demand.lines.reduce((sum, line) => sum + line.extractG * (centsPerExtractG[line.material] ?? 0), 0)
  ).sort((a, b) => a - b);
  const unit = Math.max(1000, costs[costs.length >> 1] ?? 0);
  return { unit, made: [12 * unit, 6 * unit, 3 * unit, unit], promise: unit, broken: 2 * unit };
}

export function energyOf(score: Score, by: Steering): number {
  let energy = score.moneyCents + score.broken * by.broken - score.promises * by.promise;
  for (let i = 0; i < 4; i++) energy -= (score.made[i] as number) * (by.made[i] as number);
  return energy;
}
