import type { Plan } from "../plan/plan.ts";
import type { BoundModel } from "./model.ts";

/** The goals before money, in order; a plan's counts of them are its levels. */
export const LEVELS = ["class 1", "class 2", "class 3", "promises", "tail"] as const;
/** Place of the promises among them. */
export const PROMISES = 3;

/** Counts of a plan by level. */
export function levelsOf({ made, promisesHeld, tailMade }: Pick<
  Plan["goals"],
  "made" | "promisesHeld" | "tailMade"
>): number[] {
  return [...made, promisesHeld, tailMade];
}

/** Columns that each level counts. */
export function levelColumns({ demands }: BoundModel): number[][] {
  const made = [1, 2, 3, 4].map((of) =>
    demands.filter(({ demand }) => demand.class === of).map((one) => one.made)
  );
  const kept = demands.flatMap((one) => one.kept < 0 ? [] : [one.kept]);
  return [made[0] as number[], made[1] as number[], made[2] as number[], kept, made[3] as number[]];
}

/** The most a level could count if nothing were scarce: the columns that may be 1 at all. */
export function mostOfLevel({ model }: BoundModel, columns: readonly number[]): number {
  return columns.reduce((sum, column) => sum + (model.upper[column] as number), 0);
}

/** One row for each level, counting its columns, open to both sides; returns the first. They stand right behind the model's own rows. */
export function addLevelRows(of: BoundModel): number {
  const first = of.model.rowLower.length;
  for (const columns of levelColumns(of)) {
    of.model.row(-Infinity, Infinity, columns.map((column) => [column, 1]));
  }
  return first;
}

/** Costs under which the least is the level's greatest count, negative. */
export function levelCosts(of: BoundModel, level: number): number[] {
  const costs = new Array<number>(of.model.cost.length).fill(0);
  for (const column of levelColumns(of)[level] ?? []) costs[column] = -1;
  return costs;
}
