import type { Plan } from "../../core/plan/plan.ts";
import type { PlanProgress } from "../../core/plan/options.ts";
import { type Ending, type FromWorker, HAND_OVER, type Job, LEAVE_OFF, type Order } from "./messages.ts";

/** Above this much memory of the whole process, in bytes, the worker is replaced after a job. */
const MEMORY_LIMIT = 1.5e9;

/** One planning worker that lives as long as the process and is replaced when it breaks. */
export interface Thread {
  /** Makes one plan at a time. Never rejects: a crash is the ending "broken". */
  run(order: Order, onProgress: (progress: PlanProgress) => void): Promise<Ending>;
  /** Asks the running job to stop and hand over the best it has. After a moment it has to be the best it has told of. */
  stop(): void;
  /** Ends the running job at once, with the best plan it has told of. */
  leaveOff(): void;
  close(): void;
}

/** The worker's program, and how long it may take, in milliseconds, to hand over its best and to leave off. */
export interface ThreadOptions {
  readonly program: URL;
  readonly handOverMs: number;
  /** A worker that has not left off by then is replaced. */
  readonly leaveOffMs: number;
}

/** Together less than the second within which a stop has to be honoured. */
const USUAL: ThreadOptions = {
  program: new URL("./worker.ts", import.meta.url),
  handOverMs: 350,
  leaveOffMs: 450,
};

interface Running {
  readonly flag: Int32Array<SharedArrayBuffer>;
  /** The best plan that the job has told of. */
  best: Plan | null;
  end(ending: Ending): void;
  timer?: ReturnType<typeof setTimeout>;
}

/**
 * Opens the planning thread. A stop is a shared flag, because terminating a Deno worker does not end a solve that
 * runs inside WebAssembly; only a worker that ignores the flag is terminated.
 */
export function openThread({ program, handOverMs, leaveOffMs }: ThreadOptions = USUAL): Thread {
  let worker: Worker | null = null;
  let running: Running | null = null;

  function drop(reason: string): void {
    worker?.terminate();
    worker = null;
    running?.end({ kind: "broken", message: reason });
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

  function ask(what: number, ms: number, otherwise: () => void): void {
    if (running === null || Atomics.load(running.flag, 0) >= what) return;
    clearTimeout(running.timer);
    Atomics.store(running.flag, 0, what);
    running.timer = setTimeout(otherwise, ms);
  }

  const leaveOff = () => ask(LEAVE_OFF, leaveOffMs, () => drop("The planner did not stop when asked."));

  return {
    run(order, onProgress) {
      if (running !== null) throw new Error("The planning thread is busy.");
      const thread = worker ??= start();
      const flag = new SharedArrayBuffer(4);
      return new Promise((resolve) => {
        const job: Running = running = {
          flag: new Int32Array(flag),
          best: null,
          end(ending) {
            clearTimeout(job.timer);
            running = null;
            thread.onmessage = null;
            if (Deno.memoryUsage().rss > MEMORY_LIMIT) drop("");
            const left = ending.kind === "broken" && Atomics.load(job.flag, 0) !== 0 && job.best !== null;
            resolve(left ? { kind: "planned", plan: { ...job.best!, stoppedEarly: true } } : ending);
          },
        };
        thread.onmessage = ({ data }: MessageEvent<FromWorker>) => {
          if (data.kind === "ending") return job.end(data.ending);
          job.best = data.progress.best ?? job.best;
          onProgress(data.progress);
        };
        thread.postMessage({ ...order, flag } satisfies Job);
      });
    },
    stop: () => ask(HAND_OVER, handOverMs, leaveOff),
    leaveOff,
    close: () => drop("The server stopped."),
  };
}
