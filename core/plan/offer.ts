import type { Season } from "../season/season.ts";
import { changedRuns, unrestOf } from "./changed-runs.ts";
import { compareGoals } from "./compare.ts";
import type { Plan } from "./plan.ts";

/** What a plan has to save, as a share of all its money lines added up without their signs: common practice, no source. */
const LEAST_SHARE = 0.005;
/** A saving of so much is worth a word however large the farm is, in cents: common practice, no source. */
const LEAST_SAVED_CENTS = 50_00;
/** Price of a changed run where the season states none, in cents: common practice, no source. */
const CHANGED_RUN_CENTS = 25_00;

/** What a plan gains over the present one. */
interface Gain {
  readonly found: Plan;
  /** Cents saved, less the price of every run that it changes. May be negative. */
  readonly netCents: number;
}

/**
 * Whether a plan that was found is worth being offered in place of the present one, and beside those that were offered for it before:
 * it makes or keeps more, or as much for clearly less money. Both have to be audited plans of one season as of one minute;
 * of another season nothing is ever worth offering.
 */
export function isWorthOffering(
  season: Season,
  present: Plan,
  found: Plan,
  offered: readonly Plan[] = [],
): boolean {
  const gain = gainOf(season, present, found);
  return [present, ...offered].every((one) => isClearlyMore(gain, gainOf(season, present, one), present));
}

/** What a plan costs, in cents, without the price of runs changed against whatever it was once made from. */
export function lastingCents({ goals }: Plan): number {
  return goals.moneyCents - goals.money.changedRunsCents;
}

function gainOf({ costs }: Season, present: Plan, found: Plan): Gain {
  const price = costs.changedRunCents || CHANGED_RUN_CENTS;
  const changed = unrestOf(changedRuns(present, found));
  return { found, netCents: lastingCents(present) - lastingCents(found) - price * changed };
}

function isClearlyMore(gain: Gain, than: Gain, present: Plan): boolean {
  if (gain.found.seasonHash !== than.found.seasonHash) return false;
  const counts = compareGoals(countsOf(gain.found), countsOf(than.found));
  if (counts !== 0) return counts < 0;
  if (gain.found.goals.tailMade < than.found.goals.tailMade) return false;
  return gain.netCents - than.netCents >= leastSavedCents(present);
}

/** What is made and kept inside the horizon alone. */
function countsOf({ goals }: Plan): Plan["goals"] {
  return { ...goals, tailMade: 0, moneyCents: 0 };
}

/** A plan's money nears nothing where feed pays for malt, so the share is of what is paid and what comes in together. */
function leastSavedCents({ goals }: Plan): number {
  const turnover = Object.values(goals.money).reduce((sum, cents) => sum + Math.abs(cents), 0);
  return Math.max(1, Math.min(LEAST_SAVED_CENTS, Math.ceil(LEAST_SHARE * turnover)));
}
