/// <reference lib="deno.worker" />
import highsModule from "highs";
import { makePlan } from "../../core/plan/make.ts";
import type { PlanProgress } from "../../core/plan/options.ts";
import { replan, ReplanCache } from "../../core/plan/replan.ts";
import { interruptible, LeftOff } from "./interruptible.ts";
import { type Ending, type FromWorker, type Job, LEAVE_OFF } from "./messages.ts";

// The package is CommonJS, so its types make the default import a namespace; at run time it is the loader.
const loadHighs = highsModule as unknown as typeof highsModule.default;
const highs = loadHighs();
const cache = new ReplanCache();

self.onmessage = async (event: MessageEvent<Job>) => {
  tell({ kind: "ending", ending: await work(event.data) });
};

async function work({ kind, season, flag, ...options }: Job): Promise<Ending> {
  const asked = new Int32Array(flag);
  const isLeft = () => Atomics.load(asked, 0) === LEAVE_OFF;
  const onProgress = (progress: PlanProgress) => tell({ kind: "progress", progress });
  try {
    const { from, asOf, revision, seed } = options;
    const by = {
      highs: interruptible(await highs, isLeft),
      cancelled() {
        if (isLeft()) throw new LeftOff();
        return Atomics.load(asked, 0) !== 0;
      },
    };
    const outcome = kind === "replan" && from !== undefined
      ? await replan(season, from, { asOf, revision, seed, cache, ...by })
      : await makePlan(season, {
        ...options,
        ...by,
        // A plan without a search claims nothing.
        prove: options.iterations > 0,
        ...(kind === "look" ? {} : { onProgress }),
      });
    return outcome.kind === "planned" ? { kind: "planned", plan: outcome.plan } : outcome;
  } catch (error) {
    return { kind: "broken", message: error instanceof Error ? error.message : String(error) };
  }
}

function tell(message: FromWorker): void {
  self.postMessage(message);
}
