import { applyChanges } from "../../core/edit/apply.ts";
import type { Change } from "../../core/edit/change.ts";
import type { JsonObject } from "../../core/edit/json.ts";
import { withPlaces, withPointers } from "../../core/edit/marks.ts";
import type { Place } from "../../core/edit/place.ts";
import type { Trail } from "../../core/edit/undo.ts";
import type { Verb } from "../../core/edit/verbs.ts";
import type { BookedRun } from "../../core/season/records.ts";
import type { Store } from "./open.ts";

/** The whole season is kept at every so many revisions. */
const MILESTONE_EVERY = 100;

/** One edit in the log. `revision` is the season's after it; `at` is ISO 8601 in UTC. */
export interface EditRow {
  readonly season_id: string;
  readonly revision: number;
  readonly edit_id: string;
  readonly at: string;
  readonly author: string;
  readonly verb: Verb;
  readonly reason: string;
  readonly changes: readonly Change[];
  readonly undoes: number | null;
  readonly redoes: number | null;
  readonly restores: number | null;
  readonly hash: string;
  /** SHA-256 of what was asked for; empty for what began the log. */
  readonly asked: string;
}

/** Adds an edit to the log. `document` is the season after it. Belongs into the transaction that stores the season. */
export function appendEdit(store: Store, row: EditRow, document: string): void {
  store.prepare(
    "INSERT INTO edit (season_id, revision, edit_id, at, author, verb, reason, changes, undoes, redoes, restores, hash, asked) " +
      "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
  ).run(
    ...[row.season_id, row.revision, row.edit_id, row.at, row.author, row.verb, row.reason],
    ...[JSON.stringify(row.changes), row.undoes, row.redoes, row.restores, row.hash, row.asked],
  );
  if (row.verb === "begin" || row.revision % MILESTONE_EVERY === 0) {
    store.prepare("INSERT INTO milestone (season_id, revision, document) VALUES (?, ?, ?)")
      .run(row.season_id, row.revision, document);
  }
}

/** The edit that was stored under this id, or null. */
export function editOnce(store: Store, seasonId: string, editId: string): EditRow | null {
  return one(store, "SELECT * FROM edit WHERE season_id = ? AND edit_id = ?", seasonId, editId);
}

/** The edit that made this revision, or null. */
export function editOf(store: Store, seasonId: string, revision: number): EditRow | null {
  return one(store, "SELECT * FROM edit WHERE season_id = ? AND revision = ?", seasonId, revision);
}

/** The edit that made the latest revision. */
export function lastEdit(store: Store, seasonId: string): EditRow | null {
  return one(store, "SELECT * FROM edit WHERE season_id = ? ORDER BY revision DESC LIMIT 1", seasonId);
}

/** Edits before a revision, the newest first; with a place, those that changed it, something in it or what it is in. */
export function editsBefore(
  store: Store,
  seasonId: string,
  before: number,
  most: number,
  place?: Place,
): EditRow[] {
  const touching = place === undefined ? "" : `AND ${TOUCHES}`;
  const sql = `SELECT * FROM edit WHERE season_id = :season AND revision < :before ${touching} ` +
    "ORDER BY revision DESC LIMIT :most";
  const named = { season: seasonId, before, most, ...(place === undefined ? {} : { place }) };
  return store.prepare(sql).all(named).map(readRow);
}

/** Edits after a revision, the oldest first. */
export function editsAfter(store: Store, seasonId: string, after: number, most: number): EditRow[] {
  const sql = "SELECT * FROM edit WHERE season_id = ? AND revision > ? ORDER BY revision LIMIT ?";
  return store.prepare(sql).all(seasonId, after, most).map(readRow);
}

const TOUCHES = "EXISTS (SELECT 1 FROM json_each(edit.changes) AS one WHERE " +
  "json_extract(one.value, '$.at') = :place " +
  "OR substr(json_extract(one.value, '$.at'), 1, length(:place) + 1) = :place || '/' " +
  "OR substr(:place, 1, length(json_extract(one.value, '$.at')) + 1) = json_extract(one.value, '$.at') || '/')";

/** One person's edits, and what others took back or made again of them; oldest first. */
export function trailOf(store: Store, seasonId: string, author: string): Trail[] {
  const sql = "SELECT revision, undoes, redoes, author = :author AS own FROM edit " +
    "WHERE season_id = :season AND verb <> 'begin' AND (author = :author OR undoes IS NOT NULL OR redoes IS NOT NULL) " +
    "ORDER BY revision";
  return store.prepare(sql).all({ season: seasonId, author }).map((row) => ({
    revision: Number(row.revision),
    undoes: row.undoes === null ? null : Number(row.undoes),
    redoes: row.redoes === null ? null : Number(row.redoes),
    own: row.own === 1,
  }));
}

/** Runs as they were booked last, by id: what the log remembers of bookings that a record has replaced since. */
export function bookedBefore(store: Store, seasonId: string): Map<string, BookedRun> {
  const sql = "SELECT one.value AS change FROM edit, json_each(edit.changes) AS one WHERE season_id = ? " +
    "AND json_extract(one.value, '$.at') LIKE '/bookings/runs/=%' AND json_type(one.value, '$.from') = 'object' " +
    "AND json_type(one.value, '$.to') IS NULL ORDER BY revision";
  const gone = store.prepare(sql).all(seasonId).map((row) => (JSON.parse(String(row.change)) as Change).from);
  return new Map(gone.map((run) => [(run as unknown as BookedRun).id, run as unknown as BookedRun]));
}

/** Revisions whose edits stand taken back. */
export function undoneOf(store: Store, seasonId: string): Set<number> {
  const sql =
    "SELECT undoes, redoes FROM edit WHERE season_id = ? AND (undoes IS NOT NULL OR redoes IS NOT NULL) " +
    "ORDER BY revision";
  const undone = new Set<number>();
  for (const { undoes, redoes } of store.prepare(sql).all(seasonId)) {
    if (undoes !== null) undone.add(Number(undoes));
    else undone.delete(Number(redoes));
  }
  return undone;
}

/** The season as it was at a revision: a milestone and the edits since. Null when the log does not reach back so far. */
export function seasonAt(store: Store, seasonId: string, revision: number): JsonObject | null {
  if (editOf(store, seasonId, revision) === null) return null;
  const sql = "SELECT revision, document FROM milestone WHERE season_id = ? AND revision <= ? " +
    "ORDER BY revision DESC LIMIT 1";
  const milestone = store.prepare(sql).get(seasonId, revision);
  if (milestone === undefined) return null;
  const since = store.prepare(
    "SELECT * FROM edit WHERE season_id = ? AND revision > ? AND revision <= ? ORDER BY revision",
  ).all(seasonId, milestone.revision as number, revision).map(readRow);
  let document = withPlaces(JSON.parse(String(milestone.document)));
  for (const { changes } of since) document = applyChanges(document, changes).document;
  return withPointers(document);
}

function one(store: Store, sql: string, ...values: (string | number)[]): EditRow | null {
  const row = store.prepare(sql).get(...values);
  return row === undefined ? null : readRow(row);
}

function readRow(row: Record<string, unknown>): EditRow {
  return { ...row, changes: JSON.parse(String(row.changes)) } as unknown as EditRow;
}
