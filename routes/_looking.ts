import { asOfNow } from "./_as-of.ts";
import { offerIfWorth } from "./_offers.ts";
import type { Parts } from "./_parts.ts";
import { carryBound } from "./_proven.ts";
import type { LookPorts } from "./_solver/looking.ts";
import { readStored, standingOf } from "./_standing.ts";
import { readPlan } from "./_store/plans.ts";
import { inWords, storeTrouble } from "./_store/trouble.ts";

/** Ties the looker to the store and to those who follow a season. */
export function lookPorts(parts: Omit<Parts, "looker">): LookPorts {
  const { bell, now } = parts;
  return {
    quest(seasonId) {
      const { row, state, latest } = standingOf(parts, seasonId);
      const isOpen = row.shelf === "open" && state === "planned" && latest !== null;
      return isOpen ? { hash: row.hash, planId: latest.id } : null;
    },
    read(seasonId) {
      const { row, latest } = standingOf(parts, seasonId);
      const plan = latest === null ? null : readPlan(latest);
      if (plan === null) return null;
      const { stored } = readStored(row);
      // Whoever stopped the plan wants no more of it; and a plan of yesterday is made anew before it is bettered.
      const isOver = plan.stoppedEarly || dayOf(plan.asOf) !== dayOf(asOfNow(stored, now()).asOf);
      return isOver ? null : { season: stored, revision: row.revision, plan };
    },
    found(seasonId, plan) {
      carryBound(parts, seasonId, plan);
      offerIfWorth(parts, seasonId, plan);
    },
    changed: (seasonId) => bell.ring(seasonId),
    failed(seasonId, error) {
      const trouble = storeTrouble(error, `looking for a better plan of ${seasonId}`);
      console.error(trouble === null ? error : inWords(trouble.trouble));
    },
    clock: () => now().getTime(),
  };
}

function dayOf(local: string): string {
  return local.slice(0, 10);
}
