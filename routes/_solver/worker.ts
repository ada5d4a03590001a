/// <reference lib="deno.worker" />
import highsModule from "highs";
import { makePlan, type PlanProgress } from "../../core/plan/make.ts";
import type { Ending, FromWorker, Job } from "./messages.ts";

// The package is CommonJS, so its types make the default import a namespace; at run time it is the loader.
const loadHighs = highsModule as unknown as typeof highsModule.default;
const highs = loadHighs();

/** At most one picture of the best plan in this many milliseconds: people cannot read faster. */
const PICTURE_EVERY_MS = 800;

self.onmessage = async (event: MessageEvent<Job>) => {
  tell({ kind: "ending", ending: await work(event.data) });
};

async function work(job: Job): Promise<Ending> {
  const flag = new Int32Array(job.flag);
  let pictured = 0;
  // The plans on the way have passed the auditor; too many pictures a second would help nobody.
  const onProgress = (progress: PlanProgress) => {
    const { best, ...rest } = progress;
    const due = best !== undefined && performance.now() - pictured >= PICTURE_EVERY_MS;
    if (due) pictured = performance.now();
    tell({ kind: "progress", progress: due ? { ...rest, best } : rest });
  };
  try {
    const outcome = await makePlan(job.season, {
      seed: job.seed,
      iterations: job.iterations,
      highs: await highs,
      onProgress,
      cancelled: () => Atomics.load(flag, 0) !== 0,
    });
    return outcome.kind === "planned" ? { kind: "planned", plan: outcome.plan } : outcome;
  } catch (error) {
    return { kind: "broken", message: error instanceof Error ? error.message : String(error) };
  }
}

function tell(message: FromWorker): void {
  self.postMessage(message);
}
