import type { Answered, AskOrder } from "./ask-messages.ts";

/** A question with the plan it is asked of and the words it is known by. */
export interface AskRequest extends AskOrder {
  readonly planId: number;
  /** The same for the same question. */
  readonly key: string;
}

/** Answers questions one after the other, beside the planner; what was answered is kept until the server ends. */
export interface Asker {
  /** Asks, unless it was asked of this plan already. */
  ask(request: AskRequest): void;
  /** What is known of a question: null when nobody has asked it of this plan. */
  look(planId: number, key: string): "waiting" | Answered | null;
  close(): void;
}

/** Carries out one order. Never rejects, and is answered soon after it was stopped. */
export type Ask = (order: AskOrder) => { readonly answered: Promise<Answered>; stop(): void };

/** So many questions are remembered; the oldest are forgotten first and may be asked again. */
const REMEMBERED = 40;

/** Answers in a worker of its own, which goes when it has answered. */
export const askInWorker: Ask = (order) => {
  const worker = new Worker(new URL("./ask-worker.ts", import.meta.url), { type: "module", name: "asker" });
  let giveUp = () => {};
  const answered = new Promise<Answered>((resolve) => {
    giveUp = () => resolve({ kind: "broke", message: "the plan it was asked of is no longer the plan." });
    worker.onerror = (event) => {
      // Without this an error in the worker would end the whole server.
      event.preventDefault();
      resolve({ kind: "broke", message: event.message });
    };
    worker.onmessage = ({ data }: MessageEvent<Answered>) => resolve(data);
    worker.postMessage(order);
  }).finally(() => worker.terminate());
  return { answered, stop: () => giveUp() };
};

/** Opens the asker; `changed` is called when a question of a season has been answered. */
export function openAsker(ask: Ask, changed: (seasonId: string) => void): Asker {
  const known = new Map<string, "waiting" | Answered>();
  const waiting: AskRequest[] = [];
  let current: { readonly request: AskRequest; stop(): void } | null = null;
  let closed = false;
  const nameOf = (planId: number, key: string) => `${planId} ${key}`;

  async function work(): Promise<void> {
    const request = closed || current !== null ? undefined : waiting.shift();
    if (request === undefined) return;
    const { season, plan, ask: what } = request;
    const job = ask({ season, plan, ask: what });
    current = { request, stop: job.stop };
    const answer = await job.answered;
    current = null;
    if (closed) return;
    known.set(nameOf(request.planId, request.key), answer);
    changed(season.id);
    work();
  }

  /** What was asked of an earlier plan of the season nobody waits for any more. */
  function giveUpOlder({ season, planId }: AskRequest): void {
    const isOlder = (one: AskRequest) => one.season.id === season.id && one.planId !== planId;
    for (const one of waiting.filter(isOlder)) {
      waiting.splice(waiting.indexOf(one), 1);
      known.delete(nameOf(one.planId, one.key));
    }
    if (current !== null && isOlder(current.request)) current.stop();
  }

  return {
    ask(request) {
      const name = nameOf(request.planId, request.key);
      if (known.has(name)) return;
      known.set(name, "waiting");
      giveUpOlder(request);
      const [oldest] = known.keys();
      if (known.size > REMEMBERED && oldest !== undefined && known.get(oldest) !== "waiting") {
        known.delete(oldest);
      }
      waiting.push(request);
      work();
    },
    look: (planId, key) => known.get(nameOf(planId, key)) ?? null,
    close() {
      closed = true;
      current?.stop();
    },
  };
}
