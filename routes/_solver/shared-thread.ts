import type { Ending, Order } from "./messages.ts";
import type { Thread } from "./thread.ts";

/** The part of the planning thread that looks for better plans: it has it while nobody wants a plan. */
export interface LookThread {
  /** True while a plan is made or waits for the thread, or while something is looked for. */
  busy(): boolean;
  /** Works on one round. Null when it was stopped before its end: what it had found then depends on the time. */
  run(order: Order): Promise<Ending | null>;
  stop(): void;
}

/** One planning thread, shared: plans come first, and what looks for better ones gives way to them at once. */
export function shareThread(
  thread: Thread,
  onIdle: () => void,
): { readonly plans: Thread; readonly looks: LookThread } {
  let planning = false;
  let round: { readonly ended: Promise<unknown>; stopped: boolean } | null = null;
  /** What was asked of a plan before it had the thread. */
  let asked: "stop" | "leaveOff" | null = null;

  function stopRound(): void {
    if (round === null || round.stopped) return;
    round.stopped = true;
    thread.leaveOff();
  }

  function ask(what: "stop" | "leaveOff"): void {
    asked = what;
    if (round === null) thread[what]();
  }

  const plans: Thread = {
    run(order, onProgress) {
      planning = true;
      asked = null;
      const begin = () => {
        const ending = thread.run(order, onProgress);
        if (asked !== null) thread[asked]();
        return ending;
      };
      stopRound();
      const ending = round === null ? begin() : round.ended.then(begin);
      return ending.finally(() => {
        planning = false;
        onIdle();
      });
    },
    stop: () => ask("stop"),
    leaveOff: () => ask("leaveOff"),
    close: () => thread.close(),
  };

  const looks: LookThread = {
    busy: () => planning || round !== null,
    async run(order) {
      const running = thread.run(order, () => {});
      const mine = round = { ended: running, stopped: false };
      const ending = await running;
      round = null;
      return mine.stopped ? null : ending;
    },
    stop: stopRound,
  };
  return { plans, looks };
}
