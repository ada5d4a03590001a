import { compareGoals } from "../../core/plan/compare.ts";
import type { Plan } from "../../core/plan/plan.ts";
import type { Season } from "../../core/season/season.ts";
import type { LookThread } from "./shared-thread.ts";

/**
 * Changes tried in each round, one after the other, each round with a seed of its own. Together they are about three
 * minutes of work on a season of typical size, where a round weighs for ten seconds however little it has tried.
 */
export const ROUNDS: readonly number[] = [40_000, 40_000, 50_000, 50_000, 60_000, 60_000];

/** The first round's seed; a plan is made with seed 1, so no round tries what the plan has tried. */
const FIRST_SEED = 2;

/** Nothing is looked for when nobody has looked at the season's page for so many milliseconds. */
export const SEEN_MS = 5 * 60_000;

/** A round that takes longer, in milliseconds, is given up, and the season is not looked at further: it is too large. */
const ROUND_LIMIT_MS = 120_000;

/** After a plan nothing is looked for for so many milliseconds: its page has to be drawn, and people edit in bursts. */
export const REST_MS = 2000;

/** What there may be to look for: a season as it is, and the plan it has. */
export interface Quest {
  readonly hash: string;
  /** Row of the plan. */
  readonly planId: number;
}

/** The same, read. */
export interface QuestRead {
  readonly season: Season;
  readonly revision: number;
  readonly plan: Plan;
}

/** What the looker calls outside itself. */
export interface LookPorts {
  /** What may be looked for in a season; null while it has no plan of its own or is put away. Asked often. */
  quest(seasonId: string): Quest | null;
  /** The season and its plan, or null when there is nothing to be gained by looking further. */
  read(seasonId: string): QuestRead | null;
  /** Told of each round's plan, whatever it is worth. */
  found(seasonId: string, plan: Plan): void;
  changed(seasonId: string): void;
  /** Told what broke a round outside the planner, such as a full disk. */
  failed(seasonId: string, error: unknown): void;
  /** Milliseconds since some fixed moment. */
  clock(): number;
}

/** How far the looking has come: in round `round` of `of`, counted from 1. */
export interface Looking {
  readonly round: number;
  readonly of: number;
}

/** Looks for better plans of seasons that have one, round by round, while the planner has nothing else to do. */
export interface Looker {
  /** Somebody looks at the season's page. */
  seen(seasonId: string): void;
  /** The planner has nothing to do any more. After a rest there may be something to look for. */
  idle(): void;
  /** Looks no further for a better plan of the season as it is. */
  stop(seasonId: string): void;
  /** Looks from the beginning, even where it had been stopped. */
  renew(seasonId: string): void;
  /** Gives up the round that is being worked on. */
  giveUp(seasonId: string): void;
  /** What is being looked for in a season, or null. */
  looking(seasonId: string): Looking | null;
  close(): void;
}

/** A season's rounds. They go on when another plan takes the place of the one it has, and begin anew when the season changes. */
interface Look extends Quest {
  readonly rounds: number;
  readonly over: boolean;
  /** True when there is nothing to be gained beside the plan that the season has. */
  readonly vain: boolean;
  /** The best plan that the rounds have come to, from which the next one starts. */
  readonly best: Plan | null;
}

/** Opens the looker. It does nothing before a season's page is seen. `restMs`: see REST_MS. */
export function openLooker(thread: LookThread, ports: LookPorts, restMs: number, rounds = ROUNDS): Looker {
  const looks = new Map<string, Look>();
  const seenAt = new Map<string, number>();
  let current: string | null = null;
  let closed = false;
  let resting: ReturnType<typeof setTimeout> | null = null;

  function lookOf(id: string): Look | null {
    const quest = ports.quest(id);
    if (quest === null) return null;
    const last = looks.get(id);
    if (last?.hash !== quest.hash) {
      return keep(id, { ...quest, rounds: 0, over: rounds.length === 0, vain: false, best: null });
    }
    return last.planId === quest.planId ? last : keep(id, { ...last, ...quest, vain: false, best: null });
  }

  function keep(id: string, look: Look): Look {
    looks.set(id, look);
    return look;
  }

  /** The season whose page was seen last and that is not looked through yet. */
  function nextSeason(): [id: string, look: Look] | null {
    const since = ports.clock() - SEEN_MS;
    const seen = [...seenAt].filter(([, at]) => at > since).sort(([, one], [, other]) => other - one);
    for (const [id] of seen) {
      const look = lookOf(id);
      if (look !== null && !look.over && !look.vain) return [id, look];
    }
    return null;
  }

  async function work(): Promise<void> {
    while (!closed && resting === null && current === null && !thread.busy()) {
      const next = nextSeason();
      if (next === null) return;
      const [id, look] = next;
      current = id;
      try {
        await carryOut(id, look);
      } catch (error) {
        // A store that cannot be written must not end the server, nor be tried again and again.
        end(id);
        ports.failed(id, error);
      }
      current = null;
      if (!closed) ports.changed(id);
    }
  }

  async function carryOut(id: string, look: Look): Promise<void> {
    const read = ports.read(id);
    if (read === null) return void keep(id, { ...look, vain: true });
    ports.changed(id);
    const { season, revision, plan } = read;
    const from = look.best ?? plan;
    const limit = setTimeout(() => {
      end(id);
      thread.stop();
    }, ROUND_LIMIT_MS);
    const order = {
      ...{ kind: "look" as const, season, asOf: plan.asOf, revision, from },
      ...{ seed: FIRST_SEED + look.rounds, iterations: rounds[look.rounds]! },
    };
    const ending = await thread.run(order).finally(() => clearTimeout(limit));
    const now = looks.get(id);
    // A round that was stopped, or whose season has changed, has not been.
    if (ending === null || closed || now?.hash !== look.hash) return;
    const done = look.rounds + 1;
    const found = ending.kind === "planned" ? ending.plan : null;
    const best = found !== null && compareGoals(found.goals, from.goals) < 0 ? found : look.best;
    keep(id, {
      ...now,
      rounds: done,
      over: now.over || done >= rounds.length || ending.kind === "broken",
      best: now.planId === look.planId ? best : null,
    });
    if (found !== null) ports.found(id, found);
  }

  function end(id: string): void {
    const look = looks.get(id);
    if (look !== undefined) keep(id, { ...look, over: true });
  }

  function giveUp(id: string): void {
    if (current === id) thread.stop();
  }

  return {
    seen(id) {
      seenAt.set(id, ports.clock());
      work();
    },
    idle() {
      if (resting !== null) clearTimeout(resting);
      resting = setTimeout(() => {
        resting = null;
        work();
      }, restMs);
    },
    stop(id) {
      lookOf(id);
      end(id);
      giveUp(id);
    },
    renew(id) {
      looks.delete(id);
      giveUp(id);
    },
    giveUp,
    looking(id) {
      const look = current === id ? looks.get(id) : undefined;
      return look === undefined || look.over ? null : { round: look.rounds + 1, of: rounds.length };
    },
    close() {
      closed = true;
      if (resting !== null) clearTimeout(resting);
    },
  };
}
