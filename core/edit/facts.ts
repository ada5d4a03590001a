import type { Change } from "./change.ts";
import { isWithin, type Place } from "./place.ts";

/** Where the season file keeps what has happened. */
const FACTS: readonly Place[] = ["/records", "/weighTickets"];
const RESULT = /^\/lots\/=[^/]+\/analyses\/=[^/]+/;

/** True for a place that holds what happened: it is corrected by a further fact and never rubbed out. */
export function isFact(place: Place): boolean {
  return FACTS.some((fact) => isWithin(place, fact)) || RESULT.test(place);
}

/** True when something that happened is written down, corrected or withdrawn. */
export function touchesFact(changes: readonly Change[]): boolean {
  return changes.some(({ at }) => isFact(at));
}

/** Places at which something that was written down as having happened is corrected or withdrawn. */
export function withdrawsFact(changes: readonly Change[]): Place[] {
  return changes.filter(({ at, from }) => isFact(at) && from !== undefined && !isEmptyList(from)).map((
    { at },
  ) => at);
}

/** A list of nothing that gets its first entry loses no fact: hand-overs and outputs are filled in as they happen. */
function isEmptyList(value: unknown): boolean {
  return Array.isArray(value) && value.length === 0;
}
