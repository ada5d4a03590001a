import { appendEdit, type EditRow } from "./edits.ts";
import type { Store } from "./open.ts";
import { inTransaction } from "./transaction.ts";

/** Where a season is kept: at hand, put away, or thrown away, from where it can be brought back. */
export const SHELVES = ["open", "archived", "thrown away"] as const;
export type Shelf = (typeof SHELVES)[number];

/** One season as it is stored. `document` is the season file as JSON; instants are ISO 8601 in UTC. */
export interface SeasonRow {
  readonly id: string;
  readonly revision: number;
  readonly document: string;
  readonly hash: string;
  readonly created: string;
  readonly updated: string;
  readonly shelf: Shelf;
  /** The season whose state this one began with, or null. */
  readonly follows: string | null;
}

/** What a caller gives to store a season. */
export interface SeasonEntry {
  readonly id: string;
  readonly document: string;
  readonly hash: string;
  readonly at: string;
}

/** How a season came into the store. */
export interface Beginning {
  readonly author: string;
  readonly reason: string;
  /** The season whose state it began with. */
  readonly follows?: string;
}

/** The open season that was stored first, else any, or null in an empty store. */
export function firstSeasonId(store: Store): string | null {
  const row = store.prepare("SELECT id FROM season ORDER BY shelf <> 'open', created, id LIMIT 1").get();
  return row === undefined ? null : String(row.id);
}

/** All seasons, the latest stored first. */
export function allSeasons(store: Store): SeasonRow[] {
  return store.prepare("SELECT * FROM season ORDER BY created DESC, id").all()
    .map((row) => ({ ...row }) as unknown as SeasonRow);
}

/** The season with this id, or null. */
export function readSeason(store: Store, id: string): SeasonRow | null {
  const row = store.prepare("SELECT * FROM season WHERE id = ?").get(id);
  return row === undefined ? null : { ...row } as unknown as SeasonRow;
}

/** Stores a new season as revision 1 and begins its log. Returns false, and stores nothing, when the id is taken. */
export function insertSeason(
  store: Store,
  entry: SeasonEntry,
  { author, reason, follows }: Beginning,
): boolean {
  return inTransaction(store, () => {
    const sql =
      "INSERT INTO season (id, revision, document, hash, created, updated, follows) VALUES (?, 1, ?, ?, ?, ?, ?) " +
      "ON CONFLICT (id) DO NOTHING";
    const { id, document, hash, at } = entry;
    if (store.prepare(sql).run(id, document, hash, at, at, follows ?? null).changes !== 1) return false;
    const first: EditRow = {
      ...{
        season_id: id,
        revision: 1,
        edit_id: "begin",
        at,
        author,
        verb: "begin",
        reason,
        changes: [],
        hash,
      },
      ...{ undoes: null, redoes: null, restores: null, asked: "" },
    };
    appendEdit(store, first, document);
    return true;
  });
}

/**
 * Stores a season after an edit, and the edit in its log. Belongs into a transaction in which the season was read, so
 * that nothing can have come between.
 */
export function storeEdited(store: Store, edit: EditRow, document: string): void {
  const sql =
    "UPDATE season SET document = ?, hash = ?, updated = ?, revision = ? WHERE id = ? AND revision = ?";
  const { season_id, revision, hash, at } = edit;
  const done = store.prepare(sql).run(document, hash, at, revision, season_id, revision - 1);
  if (done.changes !== 1) {
    throw new Error(`Revision ${revision} does not follow what is stored of ${season_id}.`);
  }
  appendEdit(store, edit, document);
}

/** Puts a season on another shelf. */
export function shelve(store: Store, id: string, shelf: Shelf): void {
  store.prepare("UPDATE season SET shelf = ? WHERE id = ?").run(shelf, id);
}
