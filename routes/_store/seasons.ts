import type { Store } from "./open.ts";

/** One season as it is stored. `document` is the season file as JSON; instants are ISO 8601 in UTC. */
export interface SeasonRow {
  readonly id: string;
  readonly revision: number;
  readonly document: string;
  readonly hash: string;
  readonly created: string;
  readonly updated: string;
}

/** What a caller gives to store a season. */
export interface SeasonEntry {
  readonly id: string;
  readonly document: string;
  readonly hash: string;
  readonly at: string;
}

/** The season that was stored first, or null in an empty store. */
export function firstSeasonId(store: Store): string | null {
  const row = store.prepare("SELECT id FROM season ORDER BY created, id LIMIT 1").get();
  return row === undefined ? null : String(row.id);
}

/** The season with this id, or null. */
export function readSeason(store: Store, id: string): SeasonRow | null {
  const row = store.prepare("SELECT * FROM season WHERE id = ?").get(id);
  return row === undefined ? null : { ...row } as unknown as SeasonRow;
}

/** Stores a new season as revision 1. Returns false, and stores nothing, when the id is taken. */
export function insertSeason(store: Store, entry: SeasonEntry): boolean {
  const sql =
    "INSERT INTO season (id, revision, document, hash, created, updated) VALUES (?, 1, ?, ?, ?, ?) " +
    "ON CONFLICT (id) DO NOTHING";
  return store.prepare(sql).run(entry.id, entry.document, entry.hash, entry.at, entry.at).changes === 1;
}

/**
 * Replaces a season's document and adds one to its revision. Returns the new revision, or null when the season
 * is missing or no longer at `revision`, so that two people who edit together cannot overwrite each other.
 */
export function replaceSeason(store: Store, entry: SeasonEntry, revision: number): number | null {
  const sql = "UPDATE season SET document = ?, hash = ?, updated = ?, revision = revision + 1 " +
    "WHERE id = ? AND revision = ?";
  const done = store.prepare(sql).run(entry.document, entry.hash, entry.at, entry.id, revision);
  return done.changes === 1 ? revision + 1 : null;
}
