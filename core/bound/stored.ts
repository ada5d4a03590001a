import type { Plan } from "../plan/plan.ts";
import type { StoredBound } from "../plan/plan-bound.ts";
import type { Problem } from "../search/problem.ts";
import { type CountBound, type PlanBound, recheckBound } from "./bound.ts";
import type { Cut } from "./cuts.ts";
import type { Proof } from "./proof.ts";
import type { ProofTree } from "./tree.ts";

/** A bound as the plan file carries it. */
export function storedBound({ levels, money }: PlanBound): StoredBound {
  const count = ({ bound, proof }: CountBound) => ({ most: bound, proof: proof && storedProof(proof) });
  const [one, two, three] = levels.made;
  return {
    made: [count(one), count(two), count(three)],
    promises: count(levels.promises),
    tail: count(levels.tail),
    money: money && {
      leastCents: money.boundCents,
      fixedCents: money.fixedCents,
      proof: money.proof,
    },
  };
}

function storedProof({ cuts, duals }: Proof): { cuts: Cut[]; duals: [number, number][] } {
  return { cuts: [...cuts], duals: duals.map(([row, value]) => [row, value]) };
}

/** Whether a bound was proven for plans that count as much as this one. */
export function isBoundFor({ levels }: PlanBound, goals: Plan["goals"]): boolean {
  const counts = [...goals.made, goals.promisesHeld, goals.tailMade];
  return [...levels.made, levels.promises, levels.tail].every((one, level) => one.plan === counts[level]);
}

/**
 * Recomputes what a plan's bound claims from its dual values. Returns what does not hold, in a sentence each: nothing where all does,
 * and nothing for a plan that claims nothing. A proof can be recomputed by the program version that wrote it.
 */
export function boundFaults(problem: Problem, { goals, bound }: Pick<Plan, "goals" | "bound">): string[] {
  if (!bound) return [];
  const plan = [...goals.made, goals.promisesHeld, goals.tailMade];
  const stored = [...bound.made, bound.promises, bound.tail];
  const counts = stored.map(({ most, proof }, level): CountBound => ({
    plan: plan[level] as number,
    bound: most,
    proof: proof as Proof | null,
  }));
  const [one, two, three, promises, tail] = counts as [
    CountBound,
    CountBound,
    CountBound,
    CountBound,
    CountBound,
  ];
  const money = bound.money && {
    planCents: goals.moneyCents,
    boundCents: bound.money.leastCents,
    fixedCents: bound.money.fixedCents,
    gap: 0,
    proof: bound.money.proof as ProofTree,
  };
  let again: ReturnType<typeof recheckBound>;
  try {
    again = recheckBound(problem, { levels: { made: [one, two, three], promises, tail }, money });
  } catch (error) {
    // A file can hold cuts of any shape.
    return [`The bound cannot be recomputed: ${error instanceof Error ? error.message : error}`];
  }
  const faults = counts.flatMap((claimed, level) => {
    const proven = again.levels[level];
    return proven != null && proven > claimed.bound
      ? [`At goal ${level + 1} the proof allows ${proven}, not ${claimed.bound}.`]
      : [];
  });
  if (money && again.moneyCents !== null && again.moneyCents < money.boundCents) {
    faults.push(`The proof gives ${again.moneyCents} cents, not ${money.boundCents}.`);
  }
  return faults;
}
