import type { Plan } from "../plan/plan.ts";
import type { Candidate } from "./candidate.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import type { Refusal } from "./fixed.ts";
import type { Problem } from "./problem.ts";
import type { Stowage } from "./stow-walk.ts";
import type { TankBoard } from "./tanks.ts";
import type { Weights } from "./weights.ts";

/** A plan without the lines that say which season and search it comes from. */
export type PlanBody = Omit<
  Plan,
  | "format"
  | "version"
  | "seasonId"
  | "seasonHash"
  | "revision"
  | "asOf"
  | "seed"
  | "iterations"
  | "program"
  | "stoppedEarly"
  | "against"
>;

/** What settling needs beside the weights. */
export interface Settling {
  problem: Problem;
  evaluator: Evaluator;
  candidate: Candidate;
  evaluation: Evaluation;
  weights: Weights;
  stowage: Stowage;
  tanks: TankBoard;
  refused: readonly Refusal[];
  /** Batches of orders that are not placed, because the malt store has no room for them. */
  noRoomFor: ReadonlySet<string>;
}

/** `wanted`, or the first of `wanted-2`, `wanted-3`, … that is not taken. */
export function uniqueId(wanted: string, taken: readonly string[]): string {
  let id = wanted;
  for (let i = 2; taken.includes(id); i++) id = `${wanted}-${i}`;
  return id;
}
