import { makePlan } from "../../../../core/plan/make.ts";
import { type Job, leastMakespans, mostJobs } from "./_no-wait.ts";
import { machineDays, type Machines, noWaitSeason } from "./_no-wait-season.ts";

/** What the planner made of a no-wait instance within so many days, beside the most that can be made. */
export interface Planned {
  readonly within: number;
  readonly made: number;
  readonly most: number;
}

/** Plans the jobs with a deadline that only some of them can meet, with one that all but one can, and with the least makespan. */
export async function planned(
  jobs: readonly Job[],
  machines: Machines,
  iterations: number,
): Promise<Planned[]> {
  const stages = jobs.map((job) => machineDays(job, machines));
  const makespan = leastMakespans(stages).at(-1)!;
  const found: Planned[] = [];
  for (const within of [Math.floor(makespan * 0.6), makespan - 1, makespan]) {
    // Every run has its full load, so there is nothing to weigh.
    const outcome = await makePlan(noWaitSeason(jobs, within, machines), {
      seed: 1,
      iterations,
      highs: null,
    });
    if (outcome.kind !== "planned") throw new Error(JSON.stringify(outcome).slice(0, 2000));
    found.push({ within, made: outcome.plan.goals.made[0], most: mostJobs(stages, within) });
  }
  return found;
}
