import type { PlanProgress } from "../../core/plan/options.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import type { Ending, Order } from "./messages.ts";
import type { Thread } from "./thread.ts";

/** How long one plan may be worked on, in milliseconds; then the best found so far is taken. */
const TIME_LIMIT_MS = 120_000;

/** After an edit overtook a plan, the next waits this long for further edits, in milliseconds: people type in bursts. */
const SETTLE_MS = 300;

/** Why a job was stopped before its end; empty when it ran to the end. */
export type Cut = "" | "stopped" | "out of time" | "overtaken";

/** What the solver is told to do: the stored season at its revision, as of the farm's now. */
export interface Request {
  readonly season: Season;
  readonly asOf: string;
  readonly revision: number;
  readonly hash: string;
}

/** A season's plan in the making. `found` counts the audited plans so far; `best` is the last of them. */
export interface Making {
  readonly request: Request;
  readonly stage: string;
  readonly done: number;
  readonly of: number;
  readonly found: number;
  readonly best: Plan | null;
}

/** A plan in the making with what was asked for. */
interface Job extends Making {
  readonly kind: Order["kind"];
}

/** What the solver calls outside itself: the store at the start and the end of a job, the listeners meanwhile. */
export interface Ports {
  /** The last plan of a season that was made, or null. */
  last(seasonId: string): Plan | null;
  begin(request: Request): number;
  end(row: number, request: Request, ending: Ending, cut: Cut): void;
  changed(seasonId: string): void;
  /** Told what broke a job outside the planner, such as a full disk. Returns it in a sentence for the page. */
  failed(request: Request, error: unknown): string;
}

/** Plans seasons one after the other, each at most once in the queue. */
export interface Solver {
  /** Plans this season anew. The same revision is not planned twice at once; an older one in the making is given up. */
  plan(request: Request): void;
  /** The same after an edit: near the last plan and within a moment, where there is a last plan. */
  replan(request: Request): void;
  /** Stops a season's plan and keeps the best found so far. */
  stop(seasonId: string): void;
  look(seasonId: string): Making | null;
  /** Why the last job for this season as it is (`hash`) ended without a word in the store, or null. */
  failure(seasonId: string, hash: string): string | null;
  close(): void;
}

/** Opens the solver. `order` says how hard to search. */
export function openSolver(
  thread: Thread,
  ports: Ports,
  order: { seed: number; iterations: number },
): Solver {
  const waiting = new Map<string, Job>();
  const failures = new Map<string, { hash: string; says: string }>();
  let current: Job | null = null;
  let cut: Cut = "";
  let closed = false;
  let settling = false;

  function cutShort(why: Cut): void {
    cut ||= why;
    // Nobody wants what an overtaken plan has come to.
    if (why === "overtaken") thread.leaveOff();
    else thread.stop();
  }

  function advance(progress: PlanProgress): void {
    if (current === null) return;
    const { stage, done, of, best } = progress;
    current = { ...current, stage, done, of };
    if (best !== undefined) current = { ...current, best, found: current.found + 1 };
    ports.changed(current.request.season.id);
  }

  async function work(): Promise<void> {
    const next = waiting.values().next().value;
    if (current !== null || settling || next === undefined) return;
    const { request } = next;
    waiting.delete(request.season.id);
    current = next;
    cut = "";
    failures.delete(request.season.id);
    try {
      await carryOut(next);
    } catch (error) {
      // A store that cannot be written must not end the server: the rest of it still answers.
      failures.set(request.season.id, { hash: request.hash, says: ports.failed(request, error) });
    }
    if (closed) return;
    current = null;
    ports.changed(request.season.id);
    if (wasOvertaken()) settle();
    else work();
  }

  /** `cut` may have been set while the job ran, of which the checker of types knows nothing. */
  function wasOvertaken(): boolean {
    return cut === "overtaken";
  }

  function settle(): void {
    settling = true;
    setTimeout(() => {
      settling = false;
      if (!closed) work();
    }, SETTLE_MS);
  }

  async function carryOut({ request, kind }: Job): Promise<void> {
    const row = ports.begin(request);
    const { season, asOf, revision } = request;
    const from = ports.last(season.id);
    const limit = setTimeout(() => cutShort("out of time"), TIME_LIMIT_MS);
    const run = (kind: Order["kind"]) =>
      thread.run({ kind, season, asOf, revision, ...order, ...(from === null ? {} : { from }) }, advance);
    try {
      let ending = await run(from === null ? "plan" : kind);
      // Where no plan near at hand keeps the rules, a long search is the last resort.
      if (kind === "replan" && from !== null && ending.kind === "breached" && cut === "" && !closed) {
        ending = await run("plan");
      }
      if (!closed) ports.end(row, request, ending, cut);
    } finally {
      clearTimeout(limit);
    }
  }

  function ask(request: Request, kind: Order["kind"]): void {
    const id = request.season.id;
    const running = current?.request.season.id === id ? current : null;
    const same = running?.request.hash === request.hash && !wasOvertaken();
    // A plan that is asked for while the edit before it is taken in is made after that.
    if (same && (kind === "replan" || running.kind === "plan")) return;
    const wanted = waiting.get(id)?.kind === "plan" ? "plan" : kind;
    waiting.set(id, { kind: wanted, request, stage: "waiting", done: 0, of: 0, found: 0, best: null });
    if (running !== null && !same) cutShort("overtaken");
    ports.changed(id);
    work();
  }

  return {
    plan: (request) => ask(request, "plan"),
    replan: (request) => ask(request, "replan"),
    stop(seasonId) {
      waiting.delete(seasonId);
      if (current?.request.season.id === seasonId) cutShort("stopped");
      ports.changed(seasonId);
    },
    failure(seasonId, hash) {
      const last = failures.get(seasonId);
      return last?.hash === hash ? last.says : null;
    },
    look: (seasonId) => waiting.get(seasonId) ?? (current?.request.season.id === seasonId ? current : null),
    close() {
      closed = true;
      thread.close();
    },
  };
}
