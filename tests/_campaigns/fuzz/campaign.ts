import { parseArgs } from "node:util";
import { kindOfFault } from "./cases.ts";
import type { Answer, Task } from "./messages.ts";

/**
 * The long campaign: `deno task fuzz [--count N] [--seed S]`. N files (10,000) are corrupted, read and checked, and what passes the
 * check is planned and audited; one sequence of entries on a season with failed lots goes with every tenth. Prints each
 * kind of fault once, with its seed and the fewest edits that still do it, then all counts. Ends with 1 if there was a fault.
 */
export async function campaign(count: number, seed: number): Promise<number> {
  const words = new Map<string, number>(), kinds = new Map<string, number>();
  let worker = await open(true);
  let longest = { ms: 0, seed: 0 };
  const began = performance.now();
  for (const task of tasks(count, seed)) {
    const start = performance.now();
    const answer = await ask(worker, task);
    const ms = performance.now() - start;
    if (ms > longest.ms) longest = { ms, seed: task.seed };
    add(words, answer.word);
    if (answer.fault !== null) {
      const kind = kindOfFault(answer.fault);
      add(kinds, kind);
      if (kinds.get(kind) === 1) console.log(`${task.kind} ${task.seed}: ${answer.fault}\n  ${answer.about}`);
    }
    if (answer.word === TOO_LONG) {
      worker.terminate();
      worker = await open(false);
    }
  }
  worker.terminate();
  report(words, kinds);
  const seconds = Math.round((performance.now() - began) / 1000);
  console.log(`${seconds} s; the longest case took ${Math.round(longest.ms)} ms, seed ${longest.seed}`);
  return kinds.size === 0 ? 0 : 1;
}

/** Milliseconds after which a case counts as endless; a made season of this size is planned in well under a second. */
const LIMIT_MS = 30_000;
const TOO_LONG = "too long";

function* tasks(count: number, seed: number): Iterable<Task> {
  for (let i = 0; i < count; i++) {
    yield { kind: "file", seed: seed + i };
    if (i % 10 === 9) yield { kind: "lots", seed: seed + i };
  }
}

function next(worker: Worker): Promise<Answer> {
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<Answer>) => resolve(data);
    worker.onerror = (event) => {
      event.preventDefault();
      reject(new Error(event.message));
    };
  });
}

async function open(says: boolean): Promise<Worker> {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  const ready = await next(worker);
  if (says && ready.kind === "ready") {
    for (const fault of ready.faults) {
      console.log(`uncorrupted, ${fault}`);
    }
  }
  return worker;
}

async function ask(worker: Worker, task: Task): Promise<Extract<Answer, { kind: "done" }>> {
  const done = next(worker);
  worker.postMessage(task);
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<Answer>((resolve) => {
    const fault = `no end within ${LIMIT_MS / 1000} s`;
    timer = setTimeout(
      () => resolve({ kind: "done", word: TOO_LONG, fault, about: "not cut down" }),
      LIMIT_MS,
    );
  });
  try {
    const answer = await Promise.race([done, late]);
    if (answer.kind === "done") return answer;
    throw new Error("the worker was not ready");
  } catch (error) {
    return {
      kind: "done",
      word: TOO_LONG,
      fault: `the worker broke down: ${(error as Error).message}`,
      about: "",
    };
  } finally {
    clearTimeout(timer);
  }
}

function add(counts: Map<string, number>, word: string): void {
  counts.set(word, (counts.get(word) ?? 0) + 1);
}

function report(words: ReadonlyMap<string, number>, kinds: ReadonlyMap<string, number>): void {
  const most = ([, a]: [string, number], [, b]: [string, number]) => b - a;
  console.log([...words].sort(most).map(([word, count]) => `${word}: ${count}`).join(", "));
  for (const [kind, count] of [...kinds].sort(most)) console.log(`${String(count).padStart(6)} ${kind}`);
  console.log(kinds.size === 0 ? "no fault" : `${kinds.size} kinds of fault`);
}

if (import.meta.main) {
  const options = { count: { type: "string" }, seed: { type: "string" } } as const;
  const { values } = parseArgs({ args: Deno.args, options });
  const [count, seed] = [Number(values.count ?? 10_000), Number(values.seed ?? 1)];
  if (!Number.isSafeInteger(count) || !Number.isSafeInteger(seed) || count < 1) {
    console.error("Use: deno task fuzz [--count N] [--seed S], whole numbers.");
    Deno.exit(3);
  }
  Deno.exit(await campaign(count, seed));
}
