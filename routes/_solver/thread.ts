import type { PlanProgress } from "../../core/plan/make.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Ending, FromWorker, Job, Order } from "./messages.ts";

/** Above this much memory of the whole process, in bytes, the worker is replaced after a job. */
const MEMORY_LIMIT = 1.5e9;

/** One planning worker that lives as long as the process and is replaced when it breaks. */
export interface Thread {
  /** Makes one plan at a time. Never rejects: a crash is the ending "broken". */
  run(order: Order, onProgress: (progress: PlanProgress) => void): Promise<Ending>;
  /** Asks the running job to stop and hand over the best it has. */
  stop(): void;
  close(): void;
}

/** The worker's program, and how long it may take to stop when asked before it is replaced, in milliseconds. */
export interface ThreadOptions {
  readonly program: URL;
  readonly stopGraceMs: number;
}

/** A stop has to be honoured within a second. Where a weighing takes longer, the best plan so far is there already. */
const USUAL: ThreadOptions = { program: new URL("./worker.ts", import.meta.url), stopGraceMs: 700 };

/**
 * Opens the planning thread. A stop is a shared flag, because terminating a Deno worker does not end a solve that
 * runs inside WebAssembly; only a worker that ignores the flag is terminated.
 */
export function openThread({ program, stopGraceMs }: ThreadOptions = USUAL): Thread {
  let worker: Worker | null = null;
  let running: {
    flag: Int32Array<SharedArrayBuffer>;
    /** The best plan that the job has told of. */
    best: Plan | null;
    end: (ending: Ending) => void;
    timer?: ReturnType<typeof setTimeout>;
  } | null = null;

  function drop(reason: string): void {
    worker?.terminate();
    worker = null;
    running?.end({ kind: "broken", message: reason });
  }

  /** The job does not stop: its worker is replaced, and the best plan that it had told of is what it ends with. */
  function giveUp(): void {
    const { best, end } = running!;
    if (best !== null) end({ kind: "planned", plan: { ...best, stoppedEarly: true } });
    drop("The planner did not stop when asked.");
  }

  function start(): Worker {
    const fresh = new Worker(program, { type: "module", name: "planner" });
    fresh.onerror = (event) => {
      // Without this an error in the worker would end the whole server.
      event.preventDefault();
      if (fresh === worker) drop(event.message);
    };
    return fresh;
  }

  return {
    run(order, onProgress) {
      if (running !== null) throw new Error("The planning thread is busy.");
      const thread = worker ??= start();
      const flag = new SharedArrayBuffer(4);
      return new Promise((resolve) => {
        running = {
          flag: new Int32Array(flag),
          best: null,
          end(ending) {
            clearTimeout(running?.timer);
            running = null;
            thread.onmessage = null;
            if (Deno.memoryUsage().rss > MEMORY_LIMIT) drop("");
            resolve(ending);
          },
        };
        thread.onmessage = ({ data }: MessageEvent<FromWorker>) => {
          if (data.kind === "ending") return running?.end(data.ending);
          if (running !== null) running.best = data.progress.best ?? running.best;
          onProgress(data.progress);
        };
        thread.postMessage({ ...order, flag } satisfies Job);
      });
    },
    stop() {
      if (running === null || running.timer !== undefined) return;
      Atomics.store(running.flag, 0, 1);
      running.timer = setTimeout(giveUp, stopGraceMs);
    },
    close: () => drop("The server stopped."),
  };
}
