/// <reference lib="deno.worker" />
import { explain } from "../../core/explain/explain.ts";
import { Cancelled } from "../../core/explain/resolve.ts";
import type { ExplainJob, FromExplainer } from "./explain-messages.ts";
import { resolverOf } from "./resolver.ts";

self.onmessage = async (event: MessageEvent<ExplainJob>) => {
  tell({ kind: "ended", message: await work(event.data) });
};

/** The slack is known without planning other seasons. */
const nothingPlanned = () => Promise.resolve(null);

/** Null, or what broke. */
async function work({ season, plan, depth, flag }: ExplainJob): Promise<string | null> {
  const stop = new Int32Array(flag);
  const cancelled = () => Atomics.load(stop, 0) !== 0;
  try {
    const resolve = depth === "whole" ? await resolverOf(plan, cancelled) : nothingPlanned;
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
