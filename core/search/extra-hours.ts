import { HAND_OVERS } from "../season/malthouse.ts";
import type { Problem } from "./problem.ts";
import type { Times } from "./slots.ts";

/** Steps of trying sets of windows; far more than the few extra windows of a farm ask for. */
const MOST_STEPS = 20_000;

/** Price of the cheapest extra windows that hold every hand-over to come which no weekly window holds, cents. */
export function extraHoursCents(problem: Problem, runs: readonly Times[]): number {
  const { season, attendance, book } = problem;
  if (season.roster.extra.length === 0) return 0;
  const centsOf = (extra: number) => season.roster.extra[extra]?.costCents ?? 0;
  const byDay = new Map<string, number[][]>();
  for (const times of runs) {
    for (const [i, minute] of times.entries()) {
      if (minute < book.asOfMinute) continue;
      const needed = attendance.staffed[HAND_OVERS[i] as (typeof HAND_OVERS)[number]]
        .filter((one) => one.from <= minute && minute <= one.to);
      // A weekly window costs nothing, and where there is none at all nothing can be paid.
      if (needed.length === 0 || needed.some((one) => one.extra < 0)) continue;
      const extras = needed.map((one) => one.extra).sort((a, b) => centsOf(a) - centsOf(b));
      const { on } = season.roster.extra[extras[0]!]!;
      byDay.set(on, [...(byDay.get(on) ?? []), extras]);
    }
  }
  return [...byDay.values()].reduce((sum, needs) => sum + cheapest(needs, centsOf), 0);
}

/** Price of the cheapest windows with one at least for each need. */
function cheapest(needs: readonly (readonly number[])[], centsOf: (extra: number) => number): number {
  let best = Infinity;
  let steps = 0;
  const open = new Set<number>();
  const fill = (from: number, spentCents: number) => {
    if (spentCents >= best) return;
    let at = from;
    while (at < needs.length && needs[at]?.some((extra) => open.has(extra))) at++;
    if (at === needs.length) {
      best = spentCents;
      return;
    }
    for (const extra of needs[at] ?? []) {
      if (++steps > MOST_STEPS && best < Infinity) return;
      open.add(extra);
      fill(at + 1, spentCents + centsOf(extra));
      open.delete(extra);
    }
  };
  fill(0, 0);
  return best;
}
