import type { Highs } from "highs";
import { makeSeason } from "../../../core/generate/make-season.ts";
import type { SeasonSize } from "../../../core/generate/sizes.ts";
import { bindingLimits, tightnessOf } from "../../../core/generate/tightness.ts";
import { compareGoals } from "../../../core/plan/compare.ts";
import { DEFAULT_ITERATIONS, makePlan } from "../../../core/plan/make.ts";

/** A made season to be planned. */
export interface SeasonTask {
  size: SeasonSize;
  seed: number;
  /** Changes tried by the search. */
  iterations: number;
}

/** What planning it came to. `fault` is null for an audited plan no worse than the naive one. */
export interface Outcome {
  task: SeasonTask;
  fault: string | null;
  /** Strictly better than the naive plan. */
  better: boolean;
  /** Whether the naive plan passed the auditor as it was. */
  naiveClean: boolean;
  binding: string[];
  made: number;
  asked: number;
  promises: number;
  ms: number;
}

export const ITERATIONS: Readonly<Record<SeasonSize, number>> = {
  micro: 2000,
  small: DEFAULT_ITERATIONS,
  typical: DEFAULT_ITERATIONS,
  large: 4000,
  coop: 0,
};

/** Plans one made season, naively and by search, and audits both. */
export async function outcomeOf(highs: Highs, task: SeasonTask): Promise<Outcome> {
  const season = makeSeason(task.size, task.seed);
  const none = { better: false, naiveClean: false, binding: [], made: 0, asked: 0, promises: 0, ms: 0 };
  const began = performance.now();
  try {
    const naive = await makePlan(season, { seed: 1, iterations: 0, highs });
    const plan = task.iterations === 0
      ? naive
      : await makePlan(season, { seed: 1, iterations: task.iterations, highs });
    const ms = performance.now() - began;
    if (plan.kind === "cannot") {
      const said = plan.findings.filter((finding) => finding.level === "error").map((one) => one.message);
      return { ...none, task, ms, fault: `the season check refuses it: ${said.join(" ")}` };
    }
    if (plan.kind === "breached") {
      return { ...none, task, ms, fault: plan.breaches.map((breach) => breach.message).join(" ") };
    }
    if (plan.setAside.length > 0) {
      const broken = plan.setAside.map((breach) => breach.message).join(" ");
      return {
        ...none,
        task,
        ms,
        fault: `only what stands could be kept; the search's own plan broke: ${broken}`,
      };
    }
    const { goals } = plan.plan;
    const step = naive.kind === "planned" ? compareGoals(goals, naive.plan.goals) : -1;
    const sum = (counts: readonly number[]) => counts.reduce((all, one) => all + one, 0);
    return {
      task,
      fault: step > 0 ? "worse than the naive plan" : null,
      better: step < 0,
      naiveClean: naive.kind === "planned",
      binding: bindingLimits(tightnessOf(season)),
      made: sum(goals.made),
      asked: sum(goals.asked),
      promises: goals.promisesHeld,
      ms,
    };
  } catch (error) {
    const ms = performance.now() - began;
    return { ...none, task, ms, fault: `crashed: ${error instanceof Error ? error.stack : String(error)}` };
  }
}
