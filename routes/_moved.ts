import { movedBetween } from "../core/plan/moved.ts";
import { movedWords } from "../core/year/moved-words.ts";
import { type OldDays, oldDaysOf } from "../core/year/old-days.ts";
import type { Parts } from "./_parts.ts";
import { editSentence } from "./_record.ts";
import type { Standing, Year } from "./_standing.ts";
import { editsAfter } from "./_store/edits.ts";
import { readPlan, solvedBefore } from "./_store/plans.ts";

/** What the newest plan does otherwise than the one before it, and which edits lie between the two. */
export interface MovedNews {
  /** The edits, each in a sentence; empty when the same season was planned again. */
  readonly because: readonly string[];
  /** What moved, in sentences. */
  readonly moved: readonly string[];
  /** Where the things that moved lay before. */
  readonly oldDays: OldDays;
}

/** Edits that are named; of more, the last are named and the rest are counted. */
const MOST_NAMED = 2;
/** Edits between two plans that are counted at most. */
const MOST_COUNTED = 200;

/** What has moved since the plan before; null while there is no finished plan of the season as it is, or none before it. */
export function movedNews(
  { store }: Parts,
  { state, latest, row }: Standing,
  { season, plan }: Year,
): MovedNews | null {
  if (state !== "planned" || latest === null || plan === null) return null;
  const before = solvedBefore(store, row.id, latest.id);
  const old = before === null ? null : readPlan(before);
  if (before === null || old === null) return null;
  const edits = editsAfter(store, row.id, before.season_revision, MOST_COUNTED)
    .filter(({ changes }) => changes.length > 0);
  const named = edits.slice(-MOST_NAMED).map((one) => `${editSentence(season, one)}.`);
  const more = edits.length - named.length;
  const moved = movedBetween(old, plan);
  return {
    because: more > 0 ? [`${more === 1 ? "1 earlier change" : `${more} earlier changes`}.`, ...named] : named,
    moved: movedWords(season, moved),
    oldDays: oldDaysOf(season, old, plan, moved),
  };
}
