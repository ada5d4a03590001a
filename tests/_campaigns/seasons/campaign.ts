import { parseArgs } from "node:util";
import { ITERATIONS, type Outcome, type SeasonTask } from "./outcome.ts";
import { SEASON_SIZES, type SeasonSize } from "../../../core/generate/sizes.ts";

/** Seasons of each size: small and typical ones have to reach 200; the two largest at least get an audited plan. */
const FULL: Readonly<Record<SeasonSize, number>> = { micro: 0, small: 150, typical: 50, large: 2, coop: 1 };
const QUICK: Readonly<Record<SeasonSize, number>> = { micro: 0, small: 20, typical: 4, large: 0, coop: 0 };

/**
 * Plans made seasons by the hundred: `deno task campaign [--quick] [--size SIZE --count N] [--from SEED] [--jobs N]`. Every plan has to pass
 * the auditor and be no worse than the naive one. Prints each fault, then the share strictly better than naive and the
 * share with a binding limit; ends with 1 if there was a fault.
 */
export async function campaign(tasks: readonly SeasonTask[], jobs: number): Promise<number> {
  const outcomes: Outcome[] = [];
  const waiting = [...tasks];
  await Promise.all(Array.from({ length: jobs }, async () => {
    const worker = await open();
    for (let task = waiting.shift(); task !== undefined; task = waiting.shift()) {
      const outcome = await ask(worker, task);
      outcomes.push(outcome);
      if (outcome.fault !== null) console.log(`${task.size} ${task.seed}: ${outcome.fault}`);
      if (outcomes.length % 10 === 0) console.error(`${outcomes.length} of ${tasks.length} seasons`);
    }
    worker.terminate();
  }));
  for (const size of SEASON_SIZES) report(size, outcomes.filter((one) => one.task.size === size));
  return outcomes.some((one) => one.fault !== null) ? 1 : 0;
}

function report(size: SeasonSize, outcomes: readonly Outcome[]): void {
  if (outcomes.length === 0) return;
  const clean = outcomes.filter((one) => one.fault === null);
  const share = (count: number) => `${count} (${Math.round(100 * count / outcomes.length)} %)`;
  const ms = outcomes.map((one) => one.ms).sort((a, b) => a - b);
  const sum = (of: (one: Outcome) => number) => clean.reduce((all, one) => all + of(one), 0);
  console.log(
    `${size}: ${outcomes.length} seasons, ${clean.length} planned and audited clean and no worse than naive, ` +
      `strictly better ${share(clean.filter((one) => one.better).length)}, ` +
      `naive plan clean by itself ${share(outcomes.filter((one) => one.naiveClean).length)}, ` +
      `binding limit ${share(outcomes.filter((one) => one.binding.length > 0).length)}, ` +
      `brews ${sum((one) => one.made)} of ${sum((one) => one.asked)}, ` +
      `median ${(ms[ms.length >> 1]! / 1000).toFixed(1)} s, longest ${
        (ms[ms.length - 1]! / 1000).toFixed(1)
      } s`,
  );
}

function next<T>(worker: Worker): Promise<T> {
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<T>) => resolve(data);
    worker.onerror = (event) => {
      event.preventDefault();
      reject(new Error(event.message));
    };
  });
}

async function open(): Promise<Worker> {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  await next<string>(worker);
  return worker;
}

function ask(worker: Worker, task: SeasonTask): Promise<Outcome> {
  const answer = next<Outcome>(worker);
  worker.postMessage(task);
  return answer;
}

if (import.meta.main) {
  const { values } = parseArgs({
    args: Deno.args,
    options: {
      quick: { type: "boolean", default: false },
      size: { type: "string" },
      count: { type: "string" },
      from: { type: "string", default: "1" },
      jobs: { type: "string", default: "2" },
    },
  });
  const counts = values.quick ? QUICK : FULL;
  const tasks = SEASON_SIZES.filter((size) => values.size === undefined || values.size === size).flatMap((
    size,
  ) =>
    Array.from({ length: Number(values.count ?? counts[size]) }, (_, i): SeasonTask => ({
      size,
      seed: Number(values.from) + i,
      iterations: ITERATIONS[size],
    }))
  );
  Deno.exit(await campaign(tasks, Number(values.jobs)));
}
