import type { RunChoice } from "./candidate.ts";
import type { Loads } from "./loads.ts";
import type { Problem } from "./problem.ts";
import type { Stowage } from "./stow-walk.ts";

/** Runs' costs, night turns and extra windows, for runs that are not under way. */
export function runsCents(problem: Problem, runs: readonly RunChoice[], loads: Loads): number {
  let cents = 0;
  let extras: Set<number> | null = null;
  for (let i = 0; i < runs.length; i++) {
    const run = runs[i] as RunChoice;
    const drawn = (loads.drawG[i] as number) + (loads.draw2G[i] as number);
    const made = problem.materials[run.slot.malt]?.made;
    if (drawn <= 0 || !made || run.fixed?.standing === "under way") continue;
    cents += made.runCents + made.perTonneCents * drawn * (1 - made.screeningLoss) / 1e6 +
      run.slot.nightCents;
    for (const extra of run.slot.extras) {
      extras ??= new Set();
      if (extras.has(extra)) continue;
      extras.add(extra);
      cents += problem.season.roster.extra[extra]?.costCents ?? 0;
    }
  }
  return cents;
}

/** What the stowing of grain adds to the money: moves, feed, and the worth of grain left at the end. */
export function stowageCents(problem: Problem, stowage: Stowage): number {
  let cents = stowage.movesCents + stowage.feedCents;
  for (const [lot, massG] of stowage.end) cents -= (problem.lots[lot]?.endCentsPerG ?? 0) * massG;
  return cents;
}
