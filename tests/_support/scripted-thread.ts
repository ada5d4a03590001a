import type { Ending, Order } from "../../routes/_solver/messages.ts";
import type { Thread } from "../../routes/_solver/thread.ts";

type OnProgress = Parameters<Thread["run"]>[1];

/** A planning thread that does what the test says, when it says so. */
export interface ScriptedThread extends Thread {
  readonly orders: Order[];
  /** How often the running job was asked to stop. */
  stops: number;
  progress: OnProgress;
  end(ending: Ending): Promise<void>;
}

/** Makes a thread whose jobs end when the test calls `end`. */
export function scriptThread(): ScriptedThread {
  let resolve: (ending: Ending) => void = () => {};
  const thread: ScriptedThread = {
    orders: [],
    stops: 0,
    progress: () => {},
    run(order, onProgress) {
      thread.orders.push(order);
      thread.progress = onProgress;
      return new Promise((done) => resolve = done);
    },
    stop: () => void thread.stops++,
    close: () => {},
    async end(ending) {
      resolve(ending);
      // The solver hears of the ending in a later microtask.
      await new Promise((done) => setTimeout(done, 0));
    },
  };
  return thread;
}
