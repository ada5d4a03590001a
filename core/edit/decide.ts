import { checkSeason, type Finding } from "../season/check.ts";
import type { Season } from "../season/season.ts";
import { applyChanges, type Clash } from "./apply.ts";
import { type Change, changesBetween } from "./change.ts";
import { touchesFact, withdrawsFact } from "./facts.ts";
import type { Json, JsonObject } from "./json.ts";
import { withPlaces, withPointers } from "./marks.ts";
import type { Place } from "./place.ts";
import { tidied } from "./tidy.ts";
import { type Verb, verbOf } from "./verbs.ts";

/** What somebody asks of a season. */
export interface Request {
  readonly changes: readonly Change[];
  readonly author: string;
  /** Why; asked for where a fact is corrected or withdrawn. */
  readonly reason: string;
  /** What the author has been shown to stand at a place, and means to overwrite; it stands above a change's `from`. */
  readonly seen?: ReadonlyMap<Place, Json | undefined>;
  /** Given for what takes something back or replaces everything: then the changes are made just as they are. */
  readonly verb?: Extract<Verb, "undo" | "redo" | "restore" | "replace">;
}

/** What becomes of a request. Only "accepted" changes anything; `changes` are all that it changes. */
export type Decision =
  | {
    readonly kind: "accepted";
    readonly season: Season;
    readonly changes: readonly Change[];
    readonly verb: Verb;
    readonly findings: readonly Finding[];
  }
  | { readonly kind: "nothing" }
  | { readonly kind: "clash"; readonly clashes: readonly Clash[] }
  | { readonly kind: "no reason"; readonly places: readonly Place[] }
  | { readonly kind: "refused"; readonly findings: readonly Finding[] };

/**
 * Decides one edit of the season as it now stands; pure. A value is changed only where its author saw what stands there:
 * anything else is a clash, and none of the edit is made. The season after it has to pass the season check. `now` is the
 * farm's clock, to which a season that stands for no fixed day is set when a fact is written down.
 */
export function decide(season: Season, request: Request, now: string): Decision {
  const before = withPlaces(season as unknown as JsonObject);
  const asked = request.changes.map((one) =>
    request.seen?.has(one.at) ? { ...one, from: request.seen.get(one.at) } : one
  );
  const { document, clashes } = applyChanges(before, asked);
  if (clashes.length > 0) return { kind: "clash", clashes };
  if (changesBetween(before, document).length === 0) return { kind: "nothing" };

  const asOf = season.fixedAsOf === undefined && now > season.asOf && touchesFact(asked) ? now : season.asOf;
  const wanted = request.verb === undefined ? tidied(before, document, request.author) : document;
  const { season: after, findings } = checkSeason(withPointers({ ...wanted, asOf }));
  if (after === null) return { kind: "refused", findings: findings.filter(({ level }) => level === "error") };

  const changes = changesBetween(before, withPlaces(after as unknown as JsonObject));
  if (changes.length === 0) return { kind: "nothing" };
  const withdrawn = withdrawsFact(changes);
  const needsReason = request.verb !== "undo" && request.verb !== "redo" && request.reason.trim() === "";
  if (withdrawn.length > 0 && needsReason) return { kind: "no reason", places: withdrawn };
  return { kind: "accepted", season: after, changes, verb: request.verb ?? verbOf(changes), findings };
}
