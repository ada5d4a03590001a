import fc from "fast-check";
import { planned } from "../../unit/outside/planner/_no-wait-planned.ts";
import { MACHINES, type Machines } from "../../unit/outside/planner/_no-wait-season.ts";

/**
 * Plans no-wait instances of six to ten jobs and counts how often the planner makes as many as can be made:
 * `deno run -A tests/_campaigns/planner/no-wait.ts [instances] [iterations]`. Twelve instances at the ordinary 60,000
 * take some two minutes.
 */
const [count = 12, iterations = 60_000] = Deno.args.map(Number);
const day = (most: number) => fc.integer({ min: 1, max: most });
const jobsOf = fc.array(fc.tuple(day(3), day(6), day(3)), { minLength: 6, maxLength: 10 });

for (const machines of Object.keys(MACHINES) as Machines[]) {
  let same = 0, all = 0;
  for (const jobs of fc.sample(jobsOf, { numRuns: count, seed: 95 })) {
    for (const { within, made, most } of await planned(jobs, machines, iterations)) {
      all++;
      if (made === most) same++;
      else console.log(`${machines}: ${made} of ${most} within ${within} days: ${JSON.stringify(jobs)}`);
    }
  }
  console.log(`${machines}: ${same} of ${all} the same`);
}
