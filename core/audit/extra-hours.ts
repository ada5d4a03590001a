/** The extra windows that a plan pays: the cheapest that hold every hand-over which no weekly window holds. */
import { minuteOf } from "../calendar.ts";
import { HAND_OVERS } from "../season/malthouse.ts";
import type { Context } from "./context.ts";
import type { Window } from "./roster.ts";
import { handOverAt } from "./run-view.ts";

/** Sets are tried up to this many steps: all there can be of seven windows in a day. */
const MOST_TRIES = 20_000;

/** By day, the extra windows that may hold each hand-over to come, the cheapest first. */
function needs(ctx: Context): Iterable<readonly (readonly Window[])[]> {
  const byDay = new Map<number, Window[][]>();
  for (const { run, day, fact } of ctx.runs) {
    for (const handOver of HAND_OVERS) {
      if (fact[handOver]) continue;
      const open = ctx.roster.open(day[handOver], minuteOf(handOverAt(run, handOver)), handOver);
      // One that nobody is there for is a breach of its own.
      if (open.length === 0 || open.some((window) => window.extra === null)) continue;
      const sorted = [...open].sort((a, b) => a.costCents - b.costCents);
      byDay.set(day[handOver], [...byDay.get(day[handOver]) ?? [], sorted]);
    }
  }
  return byDay.values();
}

/**
 * The cheapest windows with one for each need. Where more would have to be tried than is allowed they are the cheapest of those
 * tried, and the first set tried takes the cheapest window for each need in turn.
 */
function cheapest(needs: readonly (readonly Window[])[]): readonly Window[] {
  let best: readonly Window[] = [], bestCents = Infinity, tries = 0;
  const choose = (paid: readonly Window[], cents: number, from: number) => {
    if (cents >= bestCents || (tries >= MOST_TRIES && bestCents < Infinity)) return;
    tries += 1;
    const next = needs.findIndex((open, place) =>
      place >= from && !open.some((window) => paid.includes(window))
    );
    if (next < 0) {
      best = paid;
      bestCents = cents;
      return;
    }
    for (const window of needs[next]!) choose([...paid, window], cents + window.costCents, next + 1);
  };
  choose([], 0, 0);
  return best;
}

/** Price of each window paid. */
export function extraHoursCents(ctx: Context): number[] {
  return [...needs(ctx)].flatMap((day) => cheapest(day).map((window) => window.costCents));
}
