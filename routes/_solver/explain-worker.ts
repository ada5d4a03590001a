/// <reference lib="deno.worker" />
import highsModule from "highs";
import { explain } from "../../core/explain/explain.ts";
import { Cancelled } from "../../core/explain/resolve.ts";
import { makePlan } from "../../core/plan/make.ts";
import type { Season } from "../../core/season/season.ts";
import type { ExplainJob, FromExplainer } from "./explain-messages.ts";

// The package is CommonJS, so its types make the default import a namespace; at run time it is the loader.
const loadHighs = highsModule as unknown as typeof highsModule.default;

/** Changes tried for each eased season; it starts from the plan that is explained. */
const ITERATIONS = 2000;

self.onmessage = async (event: MessageEvent<ExplainJob>) => {
  tell({ kind: "ended", message: await work(event.data) });
};

/** Null, or what broke. */
async function work({ season, plan, depth, flag }: ExplainJob): Promise<string | null> {
  const stop = new Int32Array(flag);
  const cancelled = () => Atomics.load(stop, 0) !== 0;
  try {
    const highs = depth === "whole" ? await loadHighs() : null;
    const resolve = async (eased: Season) => {
      const options = { seed: plan.seed, iterations: ITERATIONS, asOf: plan.asOf };
      const outcome = await makePlan(eased, { ...options, highs, from: plan, cancelled });
      return outcome.kind === "planned" && !outcome.plan.stoppedEarly ? outcome.plan : null;
    };
    for await (const explanation of explain(season, plan, resolve, cancelled)) {
      tell({ kind: "grown", explanation: depth === "slack" ? { ...explanation, doing: "" } : explanation });
      if (depth === "slack") break;
    }
    return null;
  } catch (error) {
    if (error instanceof Cancelled) return null;
    return error instanceof Error ? error.message : String(error);
  }
}

function tell(message: FromExplainer): void {
  self.postMessage(message);
}
