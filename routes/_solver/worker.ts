/// <reference lib="deno.worker" />
import highsModule from "highs";
import { makePlan, type PlanProgress } from "../../core/plan/make.ts";
import { replan, ReplanCache } from "../../core/plan/replan.ts";
import type { Ending, FromWorker, Job } from "./messages.ts";

// The package is CommonJS, so its types make the default import a namespace; at run time it is the loader.
const loadHighs = highsModule as unknown as typeof highsModule.default;
const highs = loadHighs();
const cache = new ReplanCache();

self.onmessage = async (event: MessageEvent<Job>) => {
  tell({ kind: "ending", ending: await work(event.data) });
};

async function work({ kind, season, flag, ...options }: Job): Promise<Ending> {
  const stop = new Int32Array(flag);
  const cancelled = () => Atomics.load(stop, 0) !== 0;
  const onProgress = (progress: PlanProgress) => tell({ kind: "progress", progress });
  try {
    const { from, asOf, revision, seed } = options;
    const outcome = kind === "replan" && from !== undefined
      ? await replan(season, from, { asOf, revision, seed, highs: await highs, cache, cancelled })
      : await makePlan(season, { ...options, highs: await highs, onProgress, cancelled });
    return outcome.kind === "planned" ? { kind: "planned", plan: outcome.plan } : outcome;
  } catch (error) {
    return { kind: "broken", message: error instanceof Error ? error.message : String(error) };
  }
}

function tell(message: FromWorker): void {
  self.postMessage(message);
}
