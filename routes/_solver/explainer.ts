import type { Explanation } from "../../core/explain/explanation.ts";
import type { ExplainJob, ExplainOrder, FromExplainer } from "./explain-messages.ts";

/** A plan to be explained, with the row it is stored in. */
export interface ExplainRequest extends ExplainOrder {
  readonly planId: number;
}

/** Works explanations out, one after the other, beside the planner and never in its way. */
export interface Explainer {
  /** Explains a plan; one of the same season that is under way gives way to it. The same one is not begun twice. */
  explain(request: ExplainRequest): void;
  /** True while a plan is being explained, or waits for it. */
  isBusy(planId: number): boolean;
  /** Why the last explanation of a plan broke off, or null. */
  failure(planId: number): string | null;
  close(): void;
}

/** Carries out one order; `told` hears each time more is known. Never rejects: it resolves to what broke, or to null. */
export type Explain = (
  order: ExplainOrder,
  told: (explanation: Explanation) => void,
) => { readonly ended: Promise<string | null>; stop(): void };

/** What the explainer calls outside itself. */
export interface ExplainPorts {
  save(planId: number, explanation: Explanation): void;
  changed(seasonId: string): void;
}

/** How long a worker may take to stop when it is asked to, in milliseconds, before it is ended. */
const STOP_GRACE_MS = 15_000;

/** Explains in a worker of its own, which goes when it has ended: the memory that a solve took never comes back otherwise. */
export const explainInWorker: Explain = (order, told) => {
  const flag = new SharedArrayBuffer(4);
  const program = new URL("./explain-worker.ts", import.meta.url);
  const worker = new Worker(program, { type: "module", name: "explainer" });
  let timer: ReturnType<typeof setTimeout> | undefined;
  let end: (message: string | null) => void = () => {};
  const ended = new Promise<string | null>((resolve) => {
    end = (message) => {
      clearTimeout(timer);
      worker.terminate();
      resolve(message);
    };
    worker.onerror = (event) => {
      // Without this an error in the worker would end the whole server.
      event.preventDefault();
      end(event.message);
    };
    worker.onmessage = ({ data }: MessageEvent<FromExplainer>) => {
      if (data.kind === "grown") told(data.explanation);
      else end(data.message);
    };
    worker.postMessage({ ...order, flag } satisfies ExplainJob);
  });
  return {
    ended,
    stop() {
      Atomics.store(new Int32Array(flag), 0, 1);
      timer ??= setTimeout(() => end(null), STOP_GRACE_MS);
    },
  };
};

/** Opens the explainer. */
export function openExplainer(explain: Explain, ports: ExplainPorts): Explainer {
  const waiting = new Map<string, ExplainRequest>();
  const failures = new Map<number, string>();
  let current: { readonly request: ExplainRequest; stop(): void } | null = null;
  let closed = false;

  const isSame = (a: ExplainRequest | undefined, b: ExplainRequest) =>
    a !== undefined && a.planId === b.planId && (a.depth === b.depth || a.depth === "whole");

  async function work(): Promise<void> {
    const request = waiting.values().next().value;
    if (closed || current !== null || request === undefined) return;
    waiting.delete(request.season.id);
    failures.delete(request.planId);
    const job = explain(request, (explanation) => {
      if (closed || waiting.has(request.season.id)) return;
      keep(request, explanation);
    });
    current = { request, stop: job.stop };
    const broke = await job.ended;
    current = null;
    if (closed) return;
    if (broke !== null) failures.set(request.planId, broke);
    ports.changed(request.season.id);
    work();
  }

  /** A store that cannot be written must not end the server: the next step is stored, or the explanation is worked out again. */
  function keep({ planId, season }: ExplainRequest, explanation: Explanation): void {
    try {
      ports.save(planId, explanation);
      ports.changed(season.id);
    } catch (error) {
      failures.set(planId, error instanceof Error ? error.message : String(error));
    }
  }

  return {
    explain(request) {
      const { id } = request.season;
      const running = current?.request.season.id === id ? current : null;
      if (isSame(running?.request, request) || isSame(waiting.get(id), request)) return;
      waiting.set(id, request);
      running?.stop();
      work();
    },
    isBusy: (planId) =>
      current?.request.planId === planId || [...waiting.values()].some((one) => one.planId === planId),
    failure: (planId) => failures.get(planId) ?? null,
    close() {
      closed = true;
      current?.stop();
    },
  };
}
