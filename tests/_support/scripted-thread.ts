import type { Ending, Order } from "../../routes/_solver/messages.ts";
import type { Thread } from "../../routes/_solver/thread.ts";

type OnProgress = Parameters<Thread["run"]>[1];

/** A planning thread that does what the test says, when it says so. */
export interface ScriptedThread extends Thread {
  readonly orders: Order[];
  /** Rounds of looking for a better plan, which the other orders do not hold. */
  readonly looks: Order[];
  /** How often a plan in the making was asked to stop. A round of looking ends at once when it is asked. */
  stops: number;
  progress: OnProgress;
  end(ending: Ending): Promise<void>;
}

/** Makes a thread whose jobs end when the test calls `end`. */
export function scriptThread(): ScriptedThread {
  let isLook = false;
  let resolve: (ending: Ending) => void = () => {};
  const thread: ScriptedThread = {
    orders: [],
    looks: [],
    stops: 0,
    progress: () => {},
    run(order, onProgress) {
      isLook = order.kind === "look";
      (isLook ? thread.looks : thread.orders).push(order);
      thread.progress = onProgress;
      return new Promise((done) => resolve = done);
    },
    stop: () => void thread.stops++,
    leaveOff() {
      if (isLook) resolve({ kind: "broken", message: "left off" });
      else thread.stops++;
    },
    close: () => {},
    async end(ending) {
      resolve(ending);
      // The solver hears of the ending in a later microtask.
      await new Promise((done) => setTimeout(done, 0));
    },
  };
  return thread;
}
