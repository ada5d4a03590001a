import { createHash } from "node:crypto";
import { z } from "zod";
import { type Change, changesBetween, changeSchema } from "../core/edit/change.ts";
import { decide, type Decision, type Request } from "../core/edit/decide.ts";
import type { Json, JsonObject } from "../core/edit/json.ts";
import { withPlaces } from "../core/edit/marks.ts";
import type { Place } from "../core/edit/place.ts";
import { redoing, undoing, undoState } from "../core/edit/undo.ts";
import type { Verb } from "../core/edit/verbs.ts";
import { canonicalJson } from "../core/season/canonical.ts";
import type { Finding } from "../core/season/check.ts";
import { type Season, seasonSchema } from "../core/season/season.ts";
import { asOfNow } from "./_as-of.ts";
import type { Parts } from "./_parts.ts";
import { hashOf } from "./_season-file.ts";
import { Refusal } from "./_shell/errors.tsx";
import { editOf, editOnce, editsBefore, lastEdit, seasonAt, trailOf } from "./_store/edits.ts";
import { readSeason, type SeasonRow, storeEdited } from "./_store/seasons.ts";
import type { Store } from "./_store/open.ts";
import { inTransaction } from "./_store/transaction.ts";

const EDIT_ID = /^[A-Za-z0-9-]{8,64}$/;

/** True for what can be the name of an edit. */
export function isEditId(text: string): boolean {
  return EDIT_ID.test(text);
}

/** Who asks, and the name of the edit: sent a second time under the same name it is not made a second time. */
const signature = {
  id: z.string().regex(EDIT_ID, "8 to 64 of A-Z, a-z, 0-9 and hyphen, new for each edit"),
  author: z.string().trim().min(1).max(60),
  reason: z.string().max(200).default(""),
  /** What the author was shown after a clash and means to overwrite. */
  seen: z.array(z.strictObject({ at: z.string(), value: z.json().optional() })).default([]),
};
const revision = z.int().min(1);

/** An edit as it comes from outside: changes, or one of the log's own to take back, to make again or to go back to. */
export const editSchema = z.union([
  z.strictObject({ ...signature, changes: z.array(changeSchema).min(1).max(2000) }),
  z.strictObject({ ...signature, undo: z.union([revision, z.literal("last")]) }),
  z.strictObject({ ...signature, redo: z.union([revision, z.literal("last")]) }),
  z.strictObject({ ...signature, restore: revision }),
]);
export type Edit = z.output<typeof editSchema> | (Signed & { readonly replace: Season });
type Signed = { id: string; author: string; reason: string; seen: { at: Place; value?: Json | undefined }[] };

/** A value that is not what the author saw, with who has changed it since. */
export interface Conflict {
  readonly place: Place;
  readonly seen: Json | undefined;
  readonly now: Json | undefined;
  readonly wanted: Json | undefined;
  readonly author: string;
  readonly at: string;
  readonly revision: number;
}

/** What became of an edit. Only "saved" has changed anything. */
export type EditAnswer =
  | {
    readonly kind: "saved";
    readonly revision: number;
    readonly verb: Verb;
    readonly findings: readonly Finding[];
  }
  | { readonly kind: "nothing"; readonly revision: number }
  | { readonly kind: "conflict"; readonly conflicts: readonly Conflict[] }
  | { readonly kind: "no reason"; readonly places: readonly Place[] }
  | { readonly kind: "findings"; readonly findings: readonly Finding[] };

/** What an edit does to the season as it stands, and which of the log's edits it is about. */
interface Meaning {
  readonly changes: readonly Change[];
  readonly verb?: Request["verb"];
  readonly undoes?: number;
  readonly redoes?: number;
  readonly restores?: number;
}

/**
 * Makes one edit of a season: reads it, decides, stores season and log in one transaction, and has the season planned
 * anew. What is answered as saved is on the disk. Refuses with 404 when there is no such season.
 */
export function makeEdit(parts: Parts, seasonId: string, edit: Edit): EditAnswer {
  const { store } = parts;
  const { answer, season } = inTransaction(store, () => {
    const before = editOnce(store, seasonId, edit.id);
    if (before !== null) {
      if (before.asked !== nameOfContent(edit)) throw usedName(edit.id);
      return {
        answer: { kind: "saved" as const, revision: before.revision, verb: before.verb, findings: [] },
      };
    }
    return make(parts, rowOf(parts, seasonId), edit);
  });
  if (answer.kind === "saved") parts.bell.ring(seasonId);
  if (answer.kind === "saved" && season !== undefined) {
    const { asOf } = asOfNow(season, parts.now());
    const request = { season, asOf, revision: answer.revision, hash: hashOf(season) };
    // Of a season that was put in the place of another, the other's plan is no measure.
    if (answer.verb === "replace") parts.solver.plan(request);
    else parts.solver.replan(request);
  }
  return answer;
}

function make(parts: Parts, row: SeasonRow, edit: Edit): { answer: EditAnswer; season?: Season } {
  const { store, now } = parts;
  if (row.shelf !== "open") {
    throw new Refusal(409, {
      what: `This season is ${row.shelf}, so it stays as it is.`,
      where: row.id,
      whatToDo: "Bring it back from the list of seasons first.",
    });
  }
  const at = now().toISOString();
  const season = latestSeason(store, row);
  const meaning = meaningOf(parts, row, season, edit);
  const { author, reason } = edit;
  const seen = new Map(edit.seen.map((one) => [one.at, one.value]));
  const { changes, verb } = meaning;
  const request = { changes, author, reason, seen, ...(verb === undefined ? {} : { verb }) };
  const decision = decide(season, request, asOfNow(season, now()).asOf);
  // What is the case already still counts as taken back, or the person's next undo would stop at it for good.
  const stored = decision.kind === "nothing" && (verb === "undo" || verb === "redo")
    ? { kind: "accepted" as const, season, changes: [], verb, findings: [] }
    : decision;
  if (stored.kind !== "accepted") return { answer: answerOf(parts, row, stored) };
  const next = row.revision + 1;
  const { undoes = null, redoes = null, restores = null } = meaning;
  const hash = hashOf(stored.season);
  storeEdited(store, {
    ...{ season_id: row.id, revision: next, edit_id: edit.id, at, author, verb: stored.verb, reason },
    ...{ changes: stored.changes, undoes, redoes, restores, hash, asked: nameOfContent(edit) },
  }, JSON.stringify(stored.season));
  readLast.set(store, { hash, season: stored.season });
  const answer: EditAnswer = { kind: "saved", revision: next, verb: stored.verb, findings: stored.findings };
  return stored.changes.length === 0 ? { answer } : { answer, season: stored.season };
}

function meaningOf(parts: Parts, row: SeasonRow, season: Season, edit: Edit): Meaning {
  if ("changes" in edit) return { changes: edit.changes };
  const present = withPlaces(season as unknown as JsonObject);
  if ("replace" in edit) {
    return {
      changes: changesBetween(present, withPlaces(edit.replace as unknown as JsonObject)),
      verb: "replace",
    };
  }
  if ("restore" in edit) {
    const past = pastSeason(parts, row.id, edit.restore);
    return { changes: changesBetween(present, withPlaces(past)), verb: "restore", restores: edit.restore };
  }
  const { undo, redo } = undoState(trailOf(parts.store, row.id, edit.author));
  const asked = "undo" in edit ? edit.undo : edit.redo;
  const of = asked !== "last" ? asked : "undo" in edit ? undo : redo;
  if (of === null) {
    throw new Refusal(409, {
      what: "undo" in edit
        ? "There is nothing of yours to take back."
        : "There is nothing of yours to make again.",
      where: edit.author,
      whatToDo: "The history shows what everybody has changed; each edit can be taken back there.",
    });
  }
  const { changes, verb } = editOf(parts.store, row.id, of) ?? {};
  if (changes === undefined || verb === "begin") throw missing(row.id, of);
  return "undo" in edit
    ? { changes: undoing(changes), verb: "undo", undoes: of }
    : { changes: redoing(changes), verb: "redo", redoes: of };
}

function answerOf(
  parts: Parts,
  row: SeasonRow,
  decision: Exclude<Decision, { kind: "accepted" }>,
): EditAnswer {
  if (decision.kind === "nothing") return { kind: "nothing", revision: row.revision };
  if (decision.kind === "refused") return { kind: "findings", findings: decision.findings };
  if (decision.kind === "no reason") return decision;
  const conflicts = decision.clashes.map(({ at: place, seen, now, wanted }): Conflict => {
    const [last] = editsBefore(parts.store, row.id, row.revision + 1, 1, place);
    const { author, at, revision } = last ?? lastEdit(parts.store, row.id)!;
    return { place, seen, now, wanted, author, at, revision };
  });
  return { kind: "conflict", conflicts };
}

/** The season that was edited last, read: the next edit is most often of the same one. */
const readLast = new WeakMap<Store, { readonly hash: string; readonly season: Season }>();

function latestSeason(store: Store, { hash, document }: SeasonRow): Season {
  const last = readLast.get(store);
  return last?.hash === hash ? last.season : seasonSchema.parse(JSON.parse(document));
}

/** What an edit asks for, as a short text: under its name nothing else is made. */
function nameOfContent({ id: _, ...content }: Edit): string {
  return createHash("sha256").update(canonicalJson(content)).digest("hex");
}

function usedName(id: string): Refusal {
  return new Refusal(409, {
    what: "Another edit was made under this name.",
    where: id,
    whatToDo: "Give each edit a name of its own, and the same name only to the same edit.",
  });
}

function rowOf({ store }: Parts, id: string): SeasonRow {
  const row = readSeason(store, id);
  if (row === null) throw missing(id);
  return row;
}

function missing(id: string, revision?: number): Refusal {
  return new Refusal(404, {
    what: revision === undefined ? "There is no season of this name here." : "The log has no such edit.",
    where: revision === undefined ? id : `${id}, revision ${revision}`,
    whatToDo: "Look it up in the list of seasons, or in the season's history.",
  });
}

/** The season as it was at a revision. Refuses with 404 when the log does not reach there. */
export function pastSeason({ store }: Parts, id: string, revision: number): JsonObject {
  const past = Number.isSafeInteger(revision) ? seasonAt(store, id, revision) : null;
  if (past === null) throw missing(id, revision);
  return past;
}
